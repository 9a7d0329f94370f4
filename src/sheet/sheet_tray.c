/* The tray of fish and where the hand is in it. */
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <string.h>

struct fish *tray_front(struct sheet *sheet)
{
    return &sheet->fish[sheet->current];
}

bool tray_is_done(const struct sheet *sheet, const struct fish *fish)
{
    return fish->closed &&
           judgement_decide(&sheet->standard, &fish->judgement).verdict != VERDICT_OPEN;
}

int tray_open_aspect(const struct sheet *sheet, const struct fish *fish, int from)
{
    int count = sheet->standard.aspect_count;
    for (int i = 0; i < count; i++) {
        int aspect = (from + i) % count;
        if (fish->judgement.scores[aspect] == SCORE_NONE)
            return aspect;
    }
    return count;
}

size_t tray_unfinished(const struct sheet *sheet, size_t first, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t index = (first + i) % sheet->fish_count;
        if (!tray_is_done(sheet, &sheet->fish[index]))
            return index;
    }
    return sheet->fish_count;
}

size_t tray_find(const struct sheet *sheet, int64_t id, size_t near)
{
    for (size_t i = 0; i < sheet->fish_count; i++) {
        size_t index = (near + i) % sheet->fish_count;
        if (sheet->fish[index].id == id)
            return index;
    }
    return sheet->fish_count;
}

size_t tray_find_tag(const struct sheet *sheet, const char *tag)
{
    size_t i = 0;
    while (i < sheet->fish_count && strcmp(sheet->fish[i].tag, tag) != 0)
        i++;
    return i;
}

bool tray_has_room(const struct sheet *sheet)
{
    return !sheet->second_look &&
           (sheet->expected == 0 || sheet->fish_count < (size_t)sheet->expected);
}

void tray_begin_look(const struct sheet *sheet, struct fish *fish)
{
    if (fish->look < sheet->look && tray_is_done(sheet, fish))
        fish_begin_look(fish, sheet->look, fish->first_ms);
}

static bool ends_in_fresh_fish(const struct sheet *sheet)
{
    return sheet->fish_count > 0 && sheet->fish[sheet->fish_count - 1].id == 0;
}

static int next_number(const struct sheet *sheet)
{
    return sheet->fish_count == 0 ? 1 : sheet->fish[sheet->fish_count - 1].number + 1;
}

static void add_fresh_fish(struct sheet *sheet)
{
    int number = next_number(sheet);
    sheet->fish =
        alloc_room(sheet->fish, sheet->fish_count, &sheet->fish_capacity, sizeof *sheet->fish);
    fish_init(&sheet->fish[sheet->fish_count++], 0, sheet->bowl_id, sheet->bowl, number);
}

static void count_verdicts(struct sheet *sheet)
{
    memset(sheet->tray_verdicts, 0, sizeof sheet->tray_verdicts);
    for (size_t i = 0; i < sheet->fish_count; i++) {
        bool done = tray_is_done(sheet, &sheet->fish[i]);
        sheet->tray_verdicts[done ? sheet_decision(sheet, i).verdict : VERDICT_OPEN]++;
    }
}

/* The fresh fish is there exactly when all others are done: what stands in the tray depends on
 * nothing but what is in the ledger. */
void tray_settle(struct sheet *sheet)
{
    if (ends_in_fresh_fish(sheet))
        sheet->fish_count--;
    bool all_done = tray_unfinished(sheet, 0, sheet->fish_count) == sheet->fish_count;
    sheet->full = all_done && !tray_has_room(sheet);
    if (all_done && tray_has_room(sheet))
        add_fresh_fish(sheet);
    count_verdicts(sheet);
}

struct sheet_place tray_place(const struct sheet *sheet, struct hand hand)
{
    struct sheet_place place = {.bowl_id = sheet->bowl_id, .number = next_number(sheet)};
    if (hand.fish < sheet->fish_count) {
        place.bowl_id = sheet->fish[hand.fish].bowl_id;
        place.number = sheet->fish[hand.fish].number;
    }
    if (hand.aspect < sheet->standard.aspect_count)
        text_copy(place.aspect, sizeof place.aspect, sheet->standard.aspects[hand.aspect].code);
    return place;
}

bool tray_move(struct sheet *sheet, struct hand hand)
{
    if (hand.fish == sheet->current && hand.aspect == sheet->aspect)
        return true;
    struct err err;
    struct sheet_place place = tray_place(sheet, hand);
    if (!sheet->port.move(sheet->port.context, &place, &err))
        return sheet_port_failed(sheet, &err);
    sheet->current = hand.fish;
    sheet->aspect = hand.aspect;
    return true;
}

bool tray_move_to_fish(struct sheet *sheet, size_t fish)
{
    return tray_move(sheet, (struct hand){fish, tray_open_aspect(sheet, &sheet->fish[fish], 0)});
}

static int fish_left(const struct verdict_counts *tally)
{
    if (tally->expected == 0)
        return -1;
    return tally->judged < tally->expected ? tally->expected - tally->judged : 0;
}

bool tray_read_round(struct sheet *sheet, struct err *err)
{
    struct sheet_round round = {.places = -1};
    if (!sheet->port.round(sheet->port.context, &round, err))
        return false;
    sheet_round_done(&sheet->round);
    sheet->round = round;
    const struct verdict_counts *tally = &round.tally;
    sheet->pace = pace_per_hour(round.closed_ms, round.closed_count);
    sheet->cut = cut_line(round.scores, round.score_count, tally->judged,
                          tally->verdicts[VERDICT_KEEP], round.places, fish_left(tally));
    return true;
}
