/* The rows of a parent model as one cell for each spawning, and what is left out before the fit. */
#ifndef STATS_PARENT_CELLS_H
#define STATS_PARENT_CELLS_H

#include "senbetsu/stats/glmm/model.h"

struct parent_cell {
    int season, variety;
    int level[PARENT_TERMS]; /* always >= 0: what is unknown has got a level of its own */
    double n, kept;
};

struct parent_couple {
    int level[PARENT_PAIR]; /* its dam and its sire */
};

struct parent_cells {
    struct parent_cell *cell;
    int count;
    int seasons, varieties;
    int levels[PARENT_TERMS];     /* with those of what is unknown, which come last */
    struct parent_couple *couple; /* [levels of pair] */
    double log_coefficients;      /* the sum of the rows' log binomial coefficients */
    enum parent_state *season_state, *variety_state;
};

/* Where a season or a variety has no finite estimate, because none or all of its fish were kept, or
 * where two groups of them have no finite distance, because all that links them is such spawnings:
 * there the likelihood rises as they run apart, towards a bound at which those spawnings add
 * nothing to it and say nothing of their parents. Exactly those are dropped. The maximum is
 * infinite just where seasons and varieties can move apart against no fish: Albert & Anderson 1984,
 * Biometrika 71:1-10 (from memory). */
bool parent_cells_init(struct parent_cells *cells, const struct parent_data *data, struct err *err);
void parent_cells_done(struct parent_cells *cells);

#endif
