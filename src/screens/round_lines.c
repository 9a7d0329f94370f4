#include "senbetsu/screens/round_lines.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"

#include <stdio.h>
#include <string.h>

struct round_line round_line_of(const struct round_summary *summary)
{
    const struct round *round = &summary->round;
    struct round_line line = {.stage = round->stage,
                              .tally = summary->tally,
                              .tallied = round->manner != MANNER_JUDGE,
                              .stated = summary->stated,
                              .bowls = summary->bowls,
                              .places = round->places,
                              .waiting = round->waiting,
                              .fate = round->fate};
    text_copy(line.lot, sizeof line.lot, round->own_lot ? "" : round->lot);
    text_copy(line.standard, sizeof line.standard, round->standard);
    text_copy(line.first_day, sizeof line.first_day, summary->first_day);
    text_copy(line.last_day, sizeof line.last_day, summary->last_day);
    return line;
}

void home_spawning_fill(struct home_spawning *line, const struct spawning *spawning)
{
    *line = (struct home_spawning){.season = spawning->season};
    text_copy(line->code, sizeof line->code, spawning->code);
    text_copy(line->date, sizeof line->date, spawning->date);
    text_copy(line->variety, sizeof line->variety, spawning->variety);
    pair_text(spawning, line->pair, sizeof line->pair);
}

void home_spawning_fill_lot(struct home_spawning *line, const struct lot_origin *lot)
{
    *line = (struct home_spawning){.season = lot->season};
    text_copy(line->code, sizeof line->code, lot->lot);
    text_copy(line->variety, sizeof line->variety, lot->variety);
    snprintf(line->pair, sizeof line->pair, "%s %.600s", lot->mixed ? "mixed from" : "lot of",
             lot->spawnings);
}

void home_spawning_add_rounds(struct home_spawning *line, const struct round_summary *rounds,
                              size_t count)
{
    size_t capacity = line->round_count;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(rounds[i].round.spawning, line->code) != 0)
            continue;
        line->rounds = alloc_room(line->rounds, line->round_count, &capacity, sizeof *line->rounds);
        line->rounds[line->round_count++] = round_line_of(&rounds[i]);
    }
}
