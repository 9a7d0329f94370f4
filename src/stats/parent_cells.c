#include "parent_cells.h"
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

static enum parent_state state_of(struct share share)
{
    if (share.n == 0)
        return PARENT_UNSEEN;
    if (share.kept == 0)
        return PARENT_NONE_KEPT;
    return share.kept == share.n ? PARENT_ALL_KEPT : PARENT_ESTIMATED;
}

/* The states of what still has fish; what was dropped before keeps its state. */
static void judge(const struct share *shares, int count, enum parent_state *states)
{
    for (int i = 0; i < count; i++)
        if (shares[i].n > 0)
            states[i] = state_of(shares[i]);
}

static int drop_infinite(struct parent_cells *cells)
{
    int left = 0, before = cells->count;
    for (int i = 0; i < before; i++) {
        const struct parent_cell *cell = &cells->cell[i];
        if (cells->season_state[cell->season] == PARENT_ESTIMATED &&
            cells->variety_state[cell->variety] == PARENT_ESTIMATED)
            cells->cell[left++] = *cell;
    }
    cells->count = left;
    return before - left;
}

static void add_shares(const struct parent_cells *cells, struct share *seasons,
                       struct share *varieties)
{
    for (int i = 0; i < cells->count; i++) {
        const struct parent_cell *cell = &cells->cell[i];
        seasons[cell->season].n += cell->n;
        seasons[cell->season].kept += cell->kept;
        varieties[cell->variety].n += cell->n;
        varieties[cell->variety].kept += cell->kept;
    }
}

/* Dropping a variety can leave a season without a kept fish, and so on. */
static void separate(struct parent_cells *cells)
{
    int dropped;
    do {
        struct share *seasons = alloc_zeroed((size_t)cells->seasons, sizeof *seasons);
        struct share *varieties = alloc_zeroed((size_t)cells->varieties, sizeof *varieties);
        add_shares(cells, seasons, varieties);
        judge(seasons, cells->seasons, cells->season_state);
        judge(varieties, cells->varieties, cells->variety_state);
        dropped = drop_infinite(cells);
        free(seasons);
        free(varieties);
    } while (dropped > 0);
}

static void prepare(struct parent_cells *cells, const struct parent_data *data)
{
    *cells = (struct parent_cells){.seasons = data->seasons, .varieties = data->varieties};
    for (int term = 0; term < PARENT_TERMS; term++)
        cells->levels[term] = data->levels[term];
    cells->cell = alloc_zeroed(data->row_count + 1, sizeof *cells->cell);
    cells->season_state = alloc_zeroed((size_t)data->seasons + 1, sizeof *cells->season_state);
    cells->variety_state = alloc_zeroed((size_t)data->varieties + 1, sizeof *cells->variety_state);
    for (int i = 0; i < data->seasons; i++)
        cells->season_state[i] = PARENT_UNSEEN;
    for (int i = 0; i < data->varieties; i++)
        cells->variety_state[i] = PARENT_UNSEEN;
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
