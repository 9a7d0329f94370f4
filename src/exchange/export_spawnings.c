#include "senbetsu/base/csv.h"
#include "senbetsu/exchange/export.h"
#include "senbetsu/store/spawnings.h"

#include <stdlib.h>

static void add_count(struct text *out, int64_t count)
{
    if (count != UNKNOWN_COUNT)
        csv_add_number(out, count, false);
    else
        csv_add(out, "", false);
}

static void add_row(const struct spawning *spawning, struct text *out)
{
    csv_add(out, spawning->code, true);
    csv_add_number(out, spawning->season, false);
    csv_add(out, spawning->date, false);
    csv_add(out, spawning->variety, false);
    csv_add(out, spawning->dam, false);
    csv_add(out, spawning->sires, false);
    csv_add(out, siring_terms[spawning->siring].word, false);
    add_count(out, spawning->eggs);
    add_count(out, spawning->hatched);
    csv_add(out, spawning->note, false);
    csv_end_row(out);
}

bool export_spawnings(struct ledger *ledger, struct text *out, struct err *err)
{
    struct spawning *spawnings;
    size_t count;
    if (!spawning_list(ledger, &spawnings, &count, err))
        return false;
    text_add(out, "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n");
    for (size_t i = 0; i < count; i++)
        add_row(&spawnings[i], out);
    free(spawnings);
    return true;
}
