#include "senbetsu/cli/rates_make.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/stats/rate.h"

#include <stdlib.h>
#include <string.h>

#define CONFIDENCE 0.95

/* All rounds of one stage that are counted together. */
struct cell {
    int rounds;
    struct cull cull;
    int64_t dead; /* NOT_COUNTED */
    bool recovered, error_unknown;
    int64_t before, alive; /* fish that the stage before kept, and those of them that were there */
    enum stage after;      /* the stage before; STAGE_COUNT = those that hatched */
};

/* Fish that can be followed from stage to stage: a spawning's, or those of a lot of its own. */
struct unit {
    int key; /* NO_KEY */
    unsigned stages;
    int64_t hatched;
    bool mixed;
    bool scattered; /* some of its fish went on elsewhere: who died cannot be told */
    struct cell cells[STAGE_COUNT];
};

/* What is counted for one key. */
struct group {
    unsigned stages;
    bool uneven;
    const char *variety; /* NULL = several */
    struct cell cells[STAGE_COUNT];
};

struct making {
    enum rates_by by;
    const struct descent *lots;
    size_t lot_count;
    const struct rate_keys *keys;
    int *unit_of; /* of each lot */
    struct unit *units;
    struct group *groups;
};

static void add_number(int64_t *sum, int64_t number)
{
    if (number != NOT_COUNTED)
        *sum = number + (*sum == NOT_COUNTED ? 0 : *sum);
}

static void add_cull(struct cell *cell, const struct cull *cull)
{
    cell->cull = cell->rounds == 0 ? *cull : cull_sum(cell->cull, *cull);
}

static void add_round(struct cell *cell, const struct round_figures *figures)
{
    struct cull cull = {figures->in.number, figures->kept.number, (double)figures->in.cv / CV_ONE,
                        (double)figures->kept.cv / CV_ONE};
    if (cell->rounds == 0)
        cell->dead = NOT_COUNTED;
    add_cull(cell, &cull);
    add_number(&cell->dead, figures->dead);
    cell->recovered |= figures->kept.number > figures->in.number;
    cell->error_unknown |= count_error_unknown(&figures->in) || count_error_unknown(&figures->kept);
    cell->rounds++;
}

static void take_rounds(struct making *making, const struct round_figures *figures, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct descent *lot =
            descent_find(making->lots, making->lot_count, figures[i].lot_id);
        if (lot == NULL || figures[i].in.number == NOT_COUNTED ||
            figures[i].kept.number == NOT_COUNTED)
            continue;
        struct unit *unit = &making->units[making->unit_of[lot - making->lots]];
        add_round(&unit->cells[figures[i].stage], &figures[i]);
        unit->stages |= 1U << figures[i].stage;
    }
}

/* The lots of a spawning are followed together, as its own lot, unless each is looked at by itself.
 */
static int followed_as(const struct making *making, size_t lot)
{
    const struct descent *lots = making->lots;
    size_t own = lot;
    if (making->by != BY_LOT && !lots[lot].own && !lots[lot].mixed)
        for (own = 0; own < making->lot_count; own++)
            if (lots[own].own && lots[own].spawning_id == lots[lot].spawning_id)
                break;
    return (int)(own < making->lot_count ? own : lot);
}

static void settle_units(struct making *making)
{
    making->units = alloc_zeroed(making->lot_count, sizeof *making->units);
    making->unit_of = alloc_zeroed(making->lot_count, sizeof *making->unit_of);
    for (size_t i = 0; i < making->lot_count; i++) {
        making->unit_of[i] = followed_as(making, i);
        struct unit *unit = &making->units[making->unit_of[i]];
        unit->key = making->keys->of[i];
        unit->mixed = making->lots[i].mixed;
        unit->hatched = unit->mixed ? UNKNOWN_COUNT : making->lots[i].hatched;
    }
}

static void scatter(struct making *making, const struct descent *from)
{
    for (size_t i = 0; i < making->lot_count; i++)
        if (code_in_list(from->spawnings, making->lots[i].spawnings))
            making->units[making->unit_of[i]].scattered = true;
}

/* A mixed lot took fish of its spawnings away; by lot, so did every other lot of the spawning. */
static void mark_scattered(struct making *making)
{
    for (size_t i = 0; i < making->lot_count; i++)
        if (making->lots[i].mixed || (making->by == BY_LOT && !making->lots[i].own))
            scatter(making, &making->lots[i]);
}

static void add_alive(struct cell *cell, int64_t before, int64_t alive, enum stage after)
{
    if (before <= 0 || (cell->before > 0 && cell->after != after))
        return;
    cell->before += before;
    cell->alive += alive;
    cell->after = after;
}

static void add_cell(struct cell *sum, const struct cell *cell)
{
    if (sum->rounds == 0)
        sum->dead = NOT_COUNTED;
    add_cull(sum, &cell->cull);
    add_number(&sum->dead, cell->dead);
    sum->recovered |= cell->recovered;
    sum->error_unknown |= cell->error_unknown;
    sum->rounds += cell->rounds;
}

static void add_unit(struct group *group, const struct unit *unit)
{
    int64_t before = unit->hatched;
    enum stage after = STAGE_COUNT;
    for (int stage = 0; stage < STAGE_COUNT; stage++) {
        const struct cell *cell = &unit->cells[stage];
        if (cell->rounds == 0)
            continue;
        add_cell(&group->cells[stage], cell);
        if (!unit->scattered)
            add_alive(&group->cells[stage], before, cell->cull.in, after);
        before = cell->cull.kept;
        after = (enum stage)stage;
    }
    group->stages |= unit->stages;
}

/* Did others of the group go through stages, up to the unit's last, that it did not? A mixed lot
 * carries on where its spawnings ended. */
static bool left_out(const struct unit *unit, unsigned group)
{
    const unsigned culls = ~(1U << STAGE_BLACK);
    unsigned went = unit->stages & culls;
    unsigned passed = 0;
    for (unsigned bit = unit->mixed ? went & (~went + 1) : 1; went != 0 && bit <= went; bit <<= 1)
        passed |= bit;
    return (group & culls & passed & ~went) != 0;
}

static void sum_groups(struct making *making)
{
    making->groups = alloc_zeroed(making->keys->count, sizeof *making->groups);
    for (size_t i = 0; i < making->lot_count; i++)
        if (making->units[i].stages != 0 && making->units[i].key != NO_KEY)
            add_unit(&making->groups[making->units[i].key], &making->units[i]);
    for (size_t i = 0; i < making->lot_count; i++)
        if (making->units[i].stages != 0 && making->units[i].key != NO_KEY) {
            struct group *group = &making->groups[making->units[i].key];
            group->uneven |= left_out(&making->units[i], group->stages);
        }
}

/* What is typical of all the varieties in a group, or nothing. */
static void note_varieties(struct making *making)
{
    for (size_t i = 0; i < making->lot_count; i++) {
        int key = making->keys->of[i];
        const char *variety = making->lots[i].variety;
        if (key == NO_KEY || making->units[making->unit_of[i]].stages == 0)
            continue;
        struct group *group = &making->groups[key];
        if (group->variety == NULL)
            group->variety = variety;
        else if (strcmp(group->variety, variety) != 0 &&
                 typical_keep(group->variety, STAGE_FIRST) != typical_keep(variety, STAGE_FIRST))
            group->variety = "";
    }
}

static void rate(struct rate_row *row, const struct cull *culls, int count)
{
    row->has_rate = true;
    for (int i = 0; i < count; i++)
        row->has_rate &= culls[i].in > 0;
    if (!row->has_rate)
        return;
    row->rate = rate_chained(culls, count);
    row->has_interval = rate_interval(culls, count, CONFIDENCE, &row->interval);
}

static struct rate_row row_of(const struct rate_key *key, const struct group *group,
                              enum stage stage)
{
    const struct cell *cell = &group->cells[stage];
    struct rate_row row = {.key = key->text,
                           .spawnings = key->spawnings,
                           .season = key->season,
                           .first = stage,
                           .last = stage,
                           .in = cell->cull.in,
                           .kept = cell->cull.kept,
                           .recovered = cell->recovered,
                           .error_unknown = cell->error_unknown,
                           .dead = cell->dead,
                           .survival = -1,
                           .after = cell->after};
    if (cell->before > 0)
        row.survival = (double)cell->alive / (double)cell->before;
    if (group->variety != NULL)
        row.typical = typical_keep(group->variety, stage);
    rate(&row, &cell->cull, 1);
    return row;
}

/* From the first cull after the black fry; those have a starting point of their own. */
static struct rate_row chained(const struct rate_row *rows, int count, const struct group *group)
{
    struct cull culls[STAGE_COUNT];
    struct rate_row row = rows[0];
    row.survival = 1;
    row.dead = NOT_COUNTED;
    row.typical = NULL;
    row.uneven = group->uneven;
    for (int i = 0; i < count; i++) {
        culls[i] = group->cells[rows[i].first].cull;
        row.recovered |= rows[i].recovered;
        row.error_unknown |= rows[i].error_unknown;
        if (i > 0)
            row.survival =
                row.survival < 0 || rows[i].survival < 0 ? -1 : row.survival * rows[i].survival;
    }
    row.last = rows[count - 1].last;
    row.kept = rows[count - 1].kept;
    rate(&row, culls, count);
    return row;
}

/* At most one row a stage, and one that chains them. */
static size_t list_rows(const struct making *making, size_t key, int stage, struct rate_row *ret)
{
    const struct group *group = &making->groups[key];
    size_t count = 0, black = 0;
    for (int i = 0; i < STAGE_COUNT; i++) {
        if (group->cells[i].rounds == 0 || (stage >= 0 && i != stage))
            continue;
        ret[count++] = row_of(&making->keys->list[key], group, (enum stage)i);
        black += i == (int)STAGE_BLACK;
    }
    if (count - black < 2)
        return count;
    ret[count] = chained(ret + black, (int)(count - black), group);
    return count + 1;
}

static void make(struct rates *rates, const struct round_figures *figures, size_t figure_count,
                 enum rates_by by, int stage)
{
    struct making making = {
        .by = by, .lots = rates->lots, .lot_count = rates->lot_count, .keys = &rates->keys};
    settle_units(&making);
    mark_scattered(&making);
    take_rounds(&making, figures, figure_count);
    sum_groups(&making);
    note_varieties(&making);
    rates->rows = alloc_zeroed(rates->keys.count * (STAGE_COUNT + 1), sizeof *rates->rows);
    for (size_t key = 0; key < rates->keys.count; key++)
        rates->count += list_rows(&making, key, stage, rates->rows + rates->count);
    free(making.units);
    free(making.unit_of);
    free(making.groups);
}

bool rates_make(struct ledger *ledger, enum rates_by by, int stage, struct rates *ret,
                struct err *err)
{
    struct rates rates = {.count = 0};
    struct round_figures *figures;
    size_t figure_count;
    if (!round_figures_list(ledger, &figures, &figure_count, err))
        return false;
    bool listed = descents_list(ledger, &rates.lots, &rates.lot_count, err);
    if (listed) {
        rate_keys_init(&rates.keys, by, rates.lots, rates.lot_count);
        make(&rates, figures, figure_count, by, stage);
        *ret = rates;
    }
    free(figures);
    return listed;
}

void rates_done(struct rates *rates)
{
    free(rates->rows);
    rate_keys_done(&rates->keys);
    descents_free(rates->lots, rates->lot_count);
}
