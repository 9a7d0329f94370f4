/* What is wanted of the inverse of a parent model's equations: variances, not all of it. */
#ifndef STATS_PARENT_INVERSE_H
#define STATS_PARENT_INVERSE_H

#include "normal_equations.h"

struct parent_inverse {
    struct parent_vector variance; /* the diagonal */
    double *pair_variance;         /* [pairs] of the sum of dam and sire, on the logit scale */
    double *cell_variance;         /* [cells] of the sum of all four */
    /* Half the derivative of the log determinant to each standard deviation, weights held. */
    double slope[PARENT_TERMS];
};

void parent_inverse_init(struct parent_inverse *inverse, const struct parent_cells *cells);
void parent_inverse_done(struct parent_inverse *inverse);
void parent_inverse_find(struct parent_inverse *inverse, const struct parent_system *system);

#endif
