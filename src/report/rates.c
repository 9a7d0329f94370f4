/* Keep rates: lots get the keys they are counted for, the units of cohort.h are added up by key and
 * stage, and each stage becomes a row with its interval; the last row of a key chains its stages.
 *
 * The rate of a key is made of the sums of its fish, never a mean of rates, in which a small cull
 * would count as much as a large one. Intervals are Wilson's, which hold for few fish and for
 * shares near 0, where most culls are; that of the normal distribution would reach below zero
 * there. The errors of estimated numbers widen them (stats/rate.h). A chain begins after the black
 * fry, which are counted from another starting point, and ends before a cull that is not done. */
#include "senbetsu/report/rates.h"
#include "cohort.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/stats/rate.h"

#include <stdlib.h>
#include <string.h>

const struct term rates_by_terms[BY_COUNT] = {
    [BY_LOT] = {"lot", "fish kept together in one pond"},
    [BY_SPAWNING] = {"spawning", "one dam's eggs of one day"},
    [BY_PAIR] = {"pair", "a dam with her sire, or her group of sires"},
    [BY_SEASON] = {"season", "the year of the spawning"},
    [BY_VARIETY] = {"variety", "what the young are to be"},
};

/* A lot with the key it counts for. */
struct keyed {
    char *text;
    const struct lot_origin *lot;
    int season; /* that keeps keys of the same text apart; 0 where they are one over all seasons */
    int index;
};

/* "DAM+SIRE" or "DAM+SIRE;SIRE": the sires of a group stand together. */
static bool add_pair(const struct lot_origin *lot, struct text *out)
{
    if (lot->mixed || lot->dam[0] == '\0' || lot->sires[0] == '\0')
        return false;
    text_addf(out, "%s+%s", lot->dam, lot->sires);
    return true;
}

/* False where the lot counts for none. */
static bool add_key(enum rates_by by, const struct lot_origin *lot, struct text *out)
{
    switch (by) {
    case BY_LOT:
        text_add(out, lot->lot);
        return true;
    case BY_SPAWNING:
        text_add(out, lot->spawnings);
        return !lot->mixed;
    case BY_PAIR:
        return add_pair(lot, out);
    case BY_SEASON:
        text_addf(out, "%d", lot->season);
        return lot->season != 0;
    case BY_VARIETY:
        text_add(out, lot->variety);
        return lot->variety[0] != '\0';
    case BY_COUNT:
        break;
    }
    return false;
}

static int compare(const struct keyed *a, const struct keyed *b)
{
    if (a->season != b->season)
        return a->season < b->season ? -1 : 1;
    return strcmp(a->text, b->text);
}

/* Lots of different spawnings may have the same name. */
static int compare_places(const void *left, const void *right)
{
    const struct keyed *a = left;
    const struct keyed *b = right;
    int order = compare(a, b);
    if (order == 0)
        order = strcmp(a->lot->spawnings, b->lot->spawnings);
    return order != 0 ? order : (a->index > b->index) - (a->index < b->index);
}

static size_t list_keyed(enum rates_by by, const struct selection *of,
                         const struct lot_origin *lots, size_t count, struct keyed *ret)
{
    bool over_seasons = by == BY_PAIR || by == BY_VARIETY;
    size_t keyed = 0;
    struct text text;
    text_init(&text);
    for (size_t i = 0; i < count; i++) {
        text_clear(&text);
        if (!selection_takes(of, &lots[i]) || !add_key(by, &lots[i], &text))
            continue;
        ret[keyed++] = (struct keyed){.text = alloc_text(text.data),
                                      .lot = &lots[i],
                                      .season = over_seasons ? 0 : lots[i].season,
                                      .index = (int)i};
    }
    text_done(&text);
    qsort(ret, keyed, sizeof *ret, compare_places);
    return keyed;
}

static bool is_same_key(enum rates_by by, const struct keyed *a, const struct keyed *b)
{
    return by != BY_LOT && compare(a, b) == 0;
}

void rate_keys_init(struct rate_keys *keys, enum rates_by by, const struct selection *of,
                    const struct lot_origin *lots, size_t count)
{
    struct keyed *keyed = alloc_zeroed(count, sizeof *keyed);
    size_t found = list_keyed(by, of, lots, count, keyed);
    *keys = (struct rate_keys){.list = alloc_zeroed(found, sizeof *keys->list),
                               .of = alloc_zeroed(count, sizeof *keys->of)};
    for (size_t i = 0; i < count; i++)
        keys->of[i] = NO_KEY;
    for (size_t i = 0; i < found; i++) {
        struct rate_key *last = keys->count > 0 ? &keys->list[keys->count - 1] : NULL;
        if (last == NULL || !is_same_key(by, &keyed[i - 1], &keyed[i]))
            keys->list[keys->count++] =
                (struct rate_key){.text = alloc_text(keyed[i].text),
                                  .spawnings = by == BY_LOT ? keyed[i].lot->spawnings : "",
                                  .season = keyed[i].lot->season};
        else if (last->season != keyed[i].lot->season)
            last->season = 0;
        keys->of[keyed[i].index] = (int)keys->count - 1;
    }
    for (size_t i = 0; i < found; i++)
        free(keyed[i].text);
    free(keyed);
}

void rate_keys_done(struct rate_keys *keys)
{
    for (size_t i = 0; i < keys->count; i++)
        free(keys->list[i].text);
    free(keys->list);
    free(keys->of);
}

/* What is counted for one key. */
struct group {
    unsigned stages;
    bool uneven;
    const char *variety; /* NULL = several */
    struct rate_cell cells[STAGE_COUNT];
};

struct making {
    const struct lot_origin *lots;
    size_t lot_count;
    const struct rate_keys *keys;
    struct rate_units units;
    struct group *groups;
};

static void add_unit(struct group *group, const struct rate_unit *unit)
{
    for (int stage = 0; stage < STAGE_COUNT; stage++)
        if (unit->cells[stage].rounds > 0)
            rate_cell_add(&group->cells[stage], &unit->cells[stage]);
    group->stages |= unit->stages;
}

/* Did others of the group go through stages, up to the unit's last, that it did not? A mixed lot
 * carries on where its spawnings ended. */
static bool left_out(const struct rate_unit *unit, unsigned group)
{
    const unsigned culls = ~(1U << STAGE_BLACK);
    unsigned went = (unit->stages | unit->inherited) & culls;
    unsigned passed = 0;
    for (unsigned bit = unit->mixed ? went & (~went + 1) : 1; went != 0 && bit <= went; bit <<= 1)
        passed |= bit;
    return (group & culls & passed & ~went) != 0;
}

/* What a unit counts for; NULL = for nothing. */
static struct group *group_of(const struct making *making, size_t unit)
{
    int key = making->keys->of[unit];
    bool counts = key != NO_KEY && making->units.list[unit].stages != 0;
    return counts ? &making->groups[key] : NULL;
}

static void sum_groups(struct making *making)
{
    making->groups = alloc_zeroed(making->keys->count, sizeof *making->groups);
    for (size_t i = 0; i < making->lot_count; i++) {
        struct group *group = group_of(making, i);
        if (group != NULL)
            add_unit(group, &making->units.list[i]);
    }
    for (size_t i = 0; i < making->lot_count; i++) {
        struct group *group = group_of(making, i);
        if (group != NULL)
            group->uneven |= left_out(&making->units.list[i], group->stages);
    }
}

/* What is typical of all the varieties in a group, or nothing. */
static void note_varieties(struct making *making)
{
    for (size_t i = 0; i < making->lot_count; i++) {
        int key = making->keys->of[i];
        const char *variety = making->lots[i].variety;
        if (key == NO_KEY || making->units.list[making->units.of[i]].stages == 0)
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
        row->has_rate &= culls[i].in > 0 && !culls[i].not_done;
    if (!row->has_rate)
        return;
    row->rate = rate_chained(culls, count);
    row->has_interval = rate_interval(culls, count, CONFIDENCE_LEVEL, &row->interval);
}

static struct rate_row row_of(const struct rate_key *key, const struct group *group,
                              enum stage stage)
{
    const struct rate_cell *cell = &group->cells[stage];
    struct rate_row row = {.key = key->text,
                           .spawnings = key->spawnings,
                           .season = key->season,
                           .first = stage,
                           .last = stage,
                           .cull = cell->cull,
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
    row.last = rows[count - 1].last;
    row.cull = cull_span(&rows[0].cull, &rows[count - 1].cull);
    row.survival = 1;
    row.typical = NULL;
    row.uneven = group->uneven;
    for (int i = 0; i < count; i++) {
        culls[i] = rows[i].cull;
        row.cull.recovered |= culls[i].recovered;
        row.cull.outdated |= culls[i].outdated;
        row.cull.estimated |= culls[i].estimated;
        row.cull.error_unknown |= culls[i].error_unknown;
        if (i > 0)
            row.survival =
                row.survival < 0 || rows[i].survival < 0 ? -1 : row.survival * rows[i].survival;
    }
    rate(&row, culls, count);
    return row;
}

/* A chain ends before a cull at work. */
static int chain_length(const struct rate_row *rows, size_t count)
{
    size_t length = 0;
    while (length < count && rows[length].cull.whole == 0)
        length++;
    return (int)length;
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
    int length = chain_length(ret + black, count - black);
    if (length < 2)
        return count;
    ret[count] = chained(ret + black, length, group);
    return count + 1;
}

static void make(struct rates *rates, const struct rates_source *source, enum rates_by by,
                 int stage)
{
    struct making making = {
        .lots = rates->lots, .lot_count = rates->lot_count, .keys = &rates->keys};
    rate_units_init(&making.units, by != BY_LOT, rates->lots, rates->lot_count, source->rounds,
                    source->round_count, source->events, source->event_count);
    sum_groups(&making);
    note_varieties(&making);
    rates->rows = alloc_zeroed(rates->keys.count * (STAGE_COUNT + 1), sizeof *rates->rows);
    for (size_t key = 0; key < rates->keys.count; key++)
        rates->count += list_rows(&making, key, stage, rates->rows + rates->count);
    rate_units_done(&making.units);
    free(making.groups);
}

bool rates_source_init(struct rates_source *source, struct ledger *ledger, struct err *err)
{
    *source = (struct rates_source){.rounds = NULL};
    if (cull_numbers_list(ledger, &source->rounds, &source->round_count, err) &&
        lot_events_among(ledger, source->rounds, source->round_count, &source->events,
                         &source->event_count, err))
        return true;
    rates_source_done(source);
    return false;
}

void rates_source_done(struct rates_source *source)
{
    free(source->rounds);
    free(source->events);
    *source = (struct rates_source){.rounds = NULL};
}

bool rate_row_untypical(const struct rate_row *row)
{
    double low = 100 * (row->has_interval ? row->interval.low : row->rate);
    double high = 100 * (row->has_interval ? row->interval.high : row->rate);
    return row->has_rate && row->cull.whole == 0 && row->typical != NULL &&
           (high < row->typical->lowest || low > row->typical->highest);
}

bool rates_make_of(struct ledger *ledger, const struct rates_source *source, enum rates_by by,
                   int stage, const struct selection *of, struct rates *ret, struct err *err)
{
    struct rates rates = {.count = 0};
    if (!lot_origins_list(ledger, &rates.lots, &rates.lot_count, err))
        return false;
    rate_keys_init(&rates.keys, by, of, rates.lots, rates.lot_count);
    make(&rates, source, by, stage);
    *ret = rates;
    return true;
}

bool rates_make(struct ledger *ledger, enum rates_by by, int stage, const struct selection *of,
                struct rates *ret, struct err *err)
{
    struct rates_source source;
    if (!rates_source_init(&source, ledger, err))
        return false;
    bool made = rates_make_of(ledger, &source, by, stage, of, ret, err);
    rates_source_done(&source);
    return made;
}

void rates_done(struct rates *rates)
{
    free(rates->rows);
    rate_keys_done(&rates->keys);
    lot_origins_free(rates->lots, rates->lot_count);
}
