/* Followed fish: a lot, or the lots of a spawning that nobody told apart, is a unit; each of its
 * stages is a cell, and what happened between two culls is a gap. Transfers carry fish from gap to
 * gap. Where a number is missing the unit says so, rather than to count fish as dead that only went
 * elsewhere: docs/rates.md has the rules.
 *
 * One gap in the record makes a survival unknown rather than zero. Lots of a spawning are taken
 * together where no transfer says which fish went where: over all of them the numbers still add
 * up. */
#include "cohort.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/report/rounds.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BEFORE_ANY = STAGE_COUNT };

struct following {
    bool together;
    const struct lot_origin *lots;
    size_t lot_count;
    const struct lot_event *events;
    size_t event_count;
    struct rate_units *units;
};

static void add_cull(struct rate_cell *cell, const struct cull *cull, int rounds)
{
    cell->cull = cell->rounds == 0 ? *cull : cull_sum(cell->cull, *cull);
    cell->rounds += rounds;
}

static void add_alive(struct rate_cell *cell, int64_t before, int64_t alive, enum stage after)
{
    if (before <= 0 || (cell->before > 0 && cell->after != after))
        return;
    cell->before += before;
    cell->alive += alive;
    cell->after = after;
}

void rate_cell_add(struct rate_cell *sum, const struct rate_cell *cell)
{
    add_cull(sum, &cell->cull, cell->rounds);
    add_alive(sum, cell->before, cell->alive, cell->after);
}

/* Of a round at work the fish judged so far went in. */
static struct cull cull_of(const struct cull_numbers *numbers)
{
    int64_t in = numbers->whole > 0 ? numbers->done : numbers->in.number;
    return (struct cull){
        .in = in,
        .kept = numbers->kept.number,
        .in_cv = (double)numbers->in.cv / CV_ONE,
        .kept_cv = (double)numbers->kept.cv / CV_ONE,
        .covariance = (double)numbers->covariance / CV_ONE / CV_ONE,
        .dead = numbers->dead,
        .done = numbers->done,
        .whole = numbers->whole,
        .not_done = numbers->whole > 0,
        .outdated = numbers->outdated,
        .so_far = numbers->in_so_far,
        .estimated = count_is_estimate(&numbers->in) || count_is_estimate(&numbers->kept),
        .error_unknown = count_error_unknown(&numbers->in) || count_error_unknown(&numbers->kept),
        .recovered = numbers->kept.number > in,
    };
}

/* A round begun and nothing more leaves no gap. */
static void add_gap(struct rate_gap *gap, const struct cull_numbers *numbers)
{
    bool at_work = numbers->whole > 0;
    bool in = numbers->in.number != NOT_COUNTED;
    bool kept = numbers->kept.number != NOT_COUNTED && !at_work;
    if (!in && !kept && numbers->day[0] == '\0')
        return;
    gap->in_unsaid |= !in || numbers->in_so_far || at_work;
    if (!kept || gap->kept == NOT_COUNTED)
        gap->kept = NOT_COUNTED;
    else
        gap->kept += numbers->kept.number;
    gap->culled = true;
}

static struct rate_unit *unit_of(const struct following *following, int64_t lot_id)
{
    const struct lot_origin *lot = lot_origin_find(following->lots, following->lot_count, lot_id);
    return lot == NULL ? NULL
                       : &following->units->list[following->units->of[lot - following->lots]];
}

static void take_rounds(const struct following *following, const struct cull_numbers *rounds,
                        size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct rate_unit *unit = unit_of(following, rounds[i].lot_id);
        if (unit == NULL)
            continue;
        add_gap(&unit->gaps[rounds[i].stage], &rounds[i]);
        if (rounds[i].in.number == NOT_COUNTED || rounds[i].kept.number == NOT_COUNTED)
            continue;
        struct cull cull = cull_of(&rounds[i]);
        add_cull(&unit->cells[rounds[i].stage], &cull, 1);
        unit->stages |= 1U << rounds[i].stage;
    }
}

/* Does a transfer say that fish of the spawning came into the lot? */
static bool is_fed(const struct following *following, const struct lot_origin *lot,
                   const char *code)
{
    for (size_t i = 0; i < following->event_count; i++) {
        const struct lot_event *event = &following->events[i];
        if (event->target_id != lot->lot_id)
            continue;
        const struct lot_origin *from =
            lot_origin_find(following->lots, following->lot_count, event->lot_id);
        if (from != NULL && code_in_list(from->spawnings, code))
            return true;
    }
    return false;
}

static int own_lot(const struct following *following, size_t lot)
{
    const struct lot_origin *lots = following->lots;
    for (size_t i = 0; i < following->lot_count; i++)
        if (lots[i].own && lots[i].spawning_id == lots[lot].spawning_id)
            return (int)i;
    return (int)lot;
}

/* Lots of a spawning out of which fish were put into others are followed one by one. */
static void keep_apart(const struct following *following)
{
    struct rate_units *units = following->units;
    bool *apart = alloc_zeroed(following->lot_count, sizeof *apart);
    for (size_t i = 0; i < following->event_count; i++) {
        const struct rate_unit *from = unit_of(following, following->events[i].lot_id);
        if (from != NULL && following->events[i].kind == EVENT_TRANSFER)
            apart[from - units->list] = true;
    }
    for (size_t i = 0; i < following->lot_count; i++)
        if (apart[units->of[i]])
            units->of[i] = (int)i;
    free(apart);
}

static void settle_units(const struct following *following)
{
    struct rate_units *units = following->units;
    units->list = alloc_zeroed(following->lot_count, sizeof *units->list);
    units->of = alloc_zeroed(following->lot_count, sizeof *units->of);
    for (size_t i = 0; i < following->lot_count; i++) {
        const struct lot_origin *lot = &following->lots[i];
        bool joined = following->together && !lot->own && !lot->mixed;
        units->of[i] = joined ? own_lot(following, i) : (int)i;
        units->list[i].mixed = lot->mixed;
        units->list[i].hatched = lot->own ? lot->hatched : 0;
    }
    keep_apart(following);
}

static void scatter(const struct following *following, const char *code)
{
    for (size_t i = 0; i < following->lot_count; i++)
        if (code_in_list(following->lots[i].spawnings, code))
            following->units->list[following->units->of[i]].scattered = true;
}

static bool was_culled(const struct rate_unit *unit)
{
    bool culled = false;
    for (int stage = 0; stage < STAGE_COUNT; stage++)
        culled |= unit->gaps[stage].culled;
    return culled;
}

/* A lot that took fish of a spawning away, and nobody said how many. */
static void mark_scattered(const struct following *following, size_t lot)
{
    char code[CODE_SIZE];
    const struct lot_origin *lot_origin = &following->lots[lot];
    if (lot_origin->own || following->units->of[lot] != (int)lot ||
        !was_culled(&following->units->list[lot]))
        return;
    for (const char *at = lot_origin->spawnings; *at != '\0';) {
        size_t length = strcspn(at, ";");
        snprintf(code, sizeof code, "%.*s", (int)length, at);
        if (!is_fed(following, lot_origin, code))
            scatter(following, code);
        at += length + (at[length] == ';');
    }
}

/* The fish that should be there after a stage, had none died; NOT_COUNTED = it cannot be told. */
static int64_t expected_after(const struct rate_unit *unit, int stage)
{
    const struct rate_gap *gap = &unit->gaps[stage];
    int64_t begin = stage == BEFORE_ANY ? unit->hatched : gap->kept;
    return begin == NOT_COUNTED || gap->unclear ? NOT_COUNTED : begin + gap->came;
}

/* Of all fish of a lot all go along that should be there: those that died on the way will be missed
 * where they went. */
static void take_transfer(struct rate_unit *from, struct rate_unit *into,
                          const struct lot_event *event)
{
    struct rate_gap *left = &from->gaps[event->after], *joined = &into->gaps[event->after];
    int64_t fish = event->all ? expected_after(from, (int)event->after) : event->fish.number;
    into->inherited |= (from->stages | from->inherited) &
                       (event->after == STAGE_COUNT ? 0 : (2U << event->after) - 1);
    if (!event->followed)
        from->scattered = into->scattered = true;
    if (fish == NOT_COUNTED) {
        left->unclear = joined->unclear = true;
        return;
    }
    left->came -= fish;
    joined->came += fish;
    if (event->all) {
        joined->dead += left->dead;
        left->dead = 0;
    }
}

static void take_events(const struct following *following)
{
    for (size_t i = 0; i < following->event_count; i++) {
        const struct lot_event *event = &following->events[i];
        struct rate_unit *from = unit_of(following, event->lot_id);
        struct rate_unit *into = unit_of(following, event->target_id);
        if (from != NULL && event->kind == EVENT_DEAD && event->followed)
            from->gaps[event->after].dead += event->fish.number;
        if (from != NULL && into != NULL)
            take_transfer(from, into, event);
    }
}

/* Those that were there at each cull, and the dead that were found since the one before. */
static void settle_cells(struct rate_unit *unit)
{
    int64_t before = expected_after(unit, BEFORE_ANY), dead = unit->gaps[BEFORE_ANY].dead;
    enum stage after = STAGE_COUNT;
    for (int stage = 0; stage < STAGE_COUNT; stage++) {
        struct rate_cell *cell = &unit->cells[stage];
        const struct rate_gap *gap = &unit->gaps[stage];
        if (cell->rounds > 0) {
            if (dead > 0)
                cell->cull.dead = dead + (cell->cull.dead == NOT_COUNTED ? 0 : cell->cull.dead);
            if (!unit->scattered && !gap->in_unsaid)
                add_alive(cell, before, cell->cull.in, after);
            cell->cull.recovered |= cell->alive > cell->before;
            dead = 0;
        }
        dead += gap->dead;
        if (gap->culled || gap->came != 0 || gap->unclear) {
            before = expected_after(unit, stage);
            after = (enum stage)stage;
        }
    }
}

void rate_units_init(struct rate_units *units, bool together, const struct lot_origin *lots,
                     size_t lot_count, const struct cull_numbers *rounds, size_t round_count,
                     const struct lot_event *events, size_t event_count)
{
    struct following following = {.together = together,
                                  .lots = lots,
                                  .lot_count = lot_count,
                                  .events = events,
                                  .event_count = event_count,
                                  .units = units};
    settle_units(&following);
    take_rounds(&following, rounds, round_count);
    take_events(&following);
    for (size_t i = 0; i < lot_count; i++)
        mark_scattered(&following, i);
    for (size_t i = 0; i < lot_count; i++)
        settle_cells(&units->list[i]);
}

void rate_units_done(struct rate_units *units)
{
    free(units->list);
    free(units->of);
}
