#include "observations.h"
#include "senbetsu/base/alloc.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool within(int number, int least, int count)
{
    return number >= least && number < count;
}

static bool row_is_sound(const struct parent_data *data, const struct parent_row *row)
{
    bool sound = row->kept >= 0 && row->kept <= row->n && within(row->season, 0, data->seasons) &&
                 within(row->variety, 0, data->varieties);
    for (int term = 0; term < PARENT_TERMS; term++)
        sound = sound && within(row->level[term], PARENT_UNKNOWN, data->levels[term]);
    return sound;
}

static double log_choose(double n, double kept)
{
    return lgamma(n + 1) - lgamma(kept + 1) - lgamma(n - kept + 1);
}

static bool same_place(const struct parent_cell *cell, const struct parent_row *row)
{
    bool same = cell->season == row->season && cell->variety == row->variety;
    for (int term = 0; term < PARENT_SPAWNING; term++)
        same = same && cell->level[term] == row->level[term];
    return same;
}

static struct parent_cell *add_cell(struct parent_cells *cells, const struct parent_row *row)
{
    struct parent_cell *cell = &cells->cell[cells->count++];
    *cell = (struct parent_cell){.season = row->season, .variety = row->variety};
    for (int term = 0; term < PARENT_TERMS; term++)
        cell->level[term] = row->level[term];
    return cell;
}

/* `place` holds the number of each spawning's cell plus 1. */
static bool add_row(struct parent_cells *cells, const struct parent_row *row, int *place,
                    struct err *err)
{
    int spawning = row->level[PARENT_SPAWNING];
    int found = spawning == PARENT_UNKNOWN ? 0 : place[spawning];
    struct parent_cell *cell = found > 0 ? &cells->cell[found - 1] : add_cell(cells, row);
    if (found == 0 && spawning != PARENT_UNKNOWN)
        place[spawning] = cells->count;
    if (!same_place(cell, row))
        return err_set(err, ERR_INPUT,
                       "Spawning number %d stands in two seasons, varieties or pairs; it can only "
                       "be compared when it is in one.",
                       spawning + 1);
    cell->n += (double)row->n;
    cell->kept += (double)row->kept;
    cells->log_coefficients += log_choose((double)row->n, (double)row->kept);
    return true;
}

static bool add_rows(struct parent_cells *cells, const struct parent_data *data, struct err *err)
{
    int *place = alloc_zeroed((size_t)data->levels[PARENT_SPAWNING] + 1, sizeof *place);
    bool good = true;
    for (size_t i = 0; good && i < data->row_count; i++) {
        const struct parent_row *row = &data->rows[i];
        if (!row_is_sound(data, row))
            good = err_set(err, ERR_INPUT,
                           "Row %zu of the spawnings to compare has more fish kept than there "
                           "were, or numbers that are out of range.",
                           i + 1);
        else if (row->n > 0)
            good = add_row(cells, row, place, err);
    }
    free(place);
    return good;
}

/* Whose dam or sire is unknown belongs to no known pair either. */
static void name_unknown(struct parent_cells *cells)
{
    for (int i = 0; i < cells->count; i++) {
        int *level = cells->cell[i].level;
        if (level[PARENT_DAM] == PARENT_UNKNOWN || level[PARENT_SIRE] == PARENT_UNKNOWN)
            level[PARENT_PAIR] = PARENT_UNKNOWN;
        for (int term = 0; term < PARENT_TERMS; term++)
            if (level[term] == PARENT_UNKNOWN)
                level[term] = cells->levels[term]++;
    }
}

static bool find_couples(struct parent_cells *cells, struct err *err)
{
    int pairs = cells->levels[PARENT_PAIR];
    cells->couple = alloc_zeroed((size_t)pairs + 1, sizeof *cells->couple);
    bool *known = alloc_zeroed((size_t)pairs + 1, sizeof *known);
    bool good = true;
    for (int i = 0; good && i < cells->count; i++) {
        const int *level = cells->cell[i].level;
        int *parents = cells->couple[level[PARENT_PAIR]].level;
        if (!known[level[PARENT_PAIR]])
            memcpy(parents, level, sizeof cells->couple->level);
        known[level[PARENT_PAIR]] = true;
        if (memcmp(parents, level, sizeof cells->couple->level) != 0)
            good = err_set(err, ERR_INPUT,
                           "Pair number %d has two dams or two sires; a pair is one of each.",
                           level[PARENT_PAIR] + 1);
    }
    free(known);
    return good;
}

struct share {
    double n, kept;
};

/* What is above what, if the levels of seasons (first) and deviations of varieties (after them) run
 * away together: fish of which none were kept stay below any level, those that were all kept above,
 * and all others hold season and variety together. */
struct order {
    int size, seasons;
    struct share *share; /* [size × size], of a season and a variety */
    bool *below; /* [size × size]: the row may not rise above the column, by any way round */
};

static void note(struct order *order, int season, int variety)
{
    struct share share = order->share[season * order->size + variety];
    if (share.n > 0 && share.kept < share.n)
        order->below[season * order->size + variety] = true;
    if (share.kept > 0)
        order->below[variety * order->size + season] = true;
}

static void close_ways(struct order *order)
{
    int size = order->size;
    for (int way = 0; way < size; way++)
        for (int from = 0; from < size; from++)
            for (int to = 0; order->below[from * size + way] && to < size; to++)
                if (order->below[way * size + to])
                    order->below[from * size + to] = true;
}

static void order_init(struct order *order, const struct parent_cells *cells)
{
    int size = cells->seasons + cells->varieties;
    *order = (struct order){.size = size, .seasons = cells->seasons};
    order->share = alloc_zeroed((size_t)size * (size_t)size, sizeof *order->share);
    order->below = alloc_zeroed((size_t)size * (size_t)size, sizeof *order->below);
    for (int i = 0; i < cells->count; i++) {
        const struct parent_cell *cell = &cells->cell[i];
        struct share *share = &order->share[cell->season * size + cells->seasons + cell->variety];
        share->n += cell->n;
        share->kept += cell->kept;
    }
    for (int season = 0; season < cells->seasons; season++)
        for (int variety = cells->seasons; variety < size; variety++)
            note(order, season, variety);
    close_ways(order);
}

static void order_done(struct order *order)
{
    free(order->share);
    free(order->below);
}

/* Where season and variety cannot move apart, they are told by their fish. */
static bool holds(const struct order *order, int season, int variety)
{
    return order->below[season * order->size + variety] &&
           order->below[variety * order->size + season];
}

static void drop_infinite(struct parent_cells *cells, const struct order *order)
{
    int left = 0;
    for (int i = 0; i < cells->count; i++) {
        const struct parent_cell *cell = &cells->cell[i];
        if (holds(order, cell->season, cells->seasons + cell->variety))
            cells->cell[left++] = *cell;
    }
    cells->count = left;
}

/* The state of a season or variety, number `at` of the order. */
static enum parent_state state_of(const struct order *order, int at)
{
    struct share sum = {0, 0};
    bool season = at < order->seasons;
    for (int i = season ? order->seasons : 0; i < (season ? order->size : order->seasons); i++) {
        int from = season ? at : i, to = season ? i : at;
        struct share share = order->share[from * order->size + to];
        if (share.n > 0 && holds(order, from, to))
            return PARENT_ESTIMATED;
        sum.n += share.n;
        sum.kept += share.kept;
    }
    if (sum.n == 0 || (sum.kept > 0 && sum.kept < sum.n))
        return PARENT_UNSEEN;
    return sum.kept == 0 ? PARENT_NONE_KEPT : PARENT_ALL_KEPT;
}

static void separate(struct parent_cells *cells)
{
    struct order order;
    order_init(&order, cells);
    for (int i = 0; i < cells->seasons; i++)
        cells->season_state[i] = state_of(&order, i);
    for (int i = 0; i < cells->varieties; i++)
        cells->variety_state[i] = state_of(&order, cells->seasons + i);
    drop_infinite(cells, &order);
    order_done(&order);
}

static void prepare(struct parent_cells *cells, const struct parent_data *data)
{
    *cells = (struct parent_cells){.seasons = data->seasons, .varieties = data->varieties};
    for (int term = 0; term < PARENT_TERMS; term++)
        cells->levels[term] = data->levels[term];
    cells->cell = alloc_zeroed(data->row_count + 1, sizeof *cells->cell);
    cells->season_state = alloc_zeroed((size_t)data->seasons + 1, sizeof *cells->season_state);
    cells->variety_state = alloc_zeroed((size_t)data->varieties + 1, sizeof *cells->variety_state);
}

static bool fill(struct parent_cells *cells, const struct parent_data *data, struct err *err)
{
    if (!add_rows(cells, data, err))
        return false;
    name_unknown(cells);
    if (!find_couples(cells, err))
        return false;
    if (cells->count == 0)
        return err_set(err, ERR_ABSENT, "There are no culled fish to compare parents by.");
    separate(cells);
    if (cells->count == 0)
        return err_set(err, ERR_ABSENT,
                       "Parents cannot be compared: no season has both fish that were kept and "
                       "fish that were not.");
    return true;
}

bool parent_cells_init(struct parent_cells *cells, const struct parent_data *data, struct err *err)
{
    prepare(cells, data);
    if (fill(cells, data, err))
        return true;
    parent_cells_done(cells);
    return false;
}

void parent_cells_done(struct parent_cells *cells)
{
    free(cells->cell);
    free(cells->couple);
    free(cells->season_state);
    free(cells->variety_state);
    *cells = (struct parent_cells){0};
}
