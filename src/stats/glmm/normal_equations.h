/* The equations of a parent model's random effects, I + ΛZ'WZΛ, solved by elimination. A spawning
 * belongs to one pair and a pair to one dam and one sire: spawnings go first, then pairs, then
 * those parents of which there are more; each time what goes has a diagonal block. What stays is
 * dense and small. Effects are in units of their term's standard deviation throughout. */
#ifndef STATS_PARENT_SYSTEM_H
#define STATS_PARENT_SYSTEM_H

#include "vector.h"

#include <gsl/gsl_matrix.h>

struct parent_system {
    const struct parent_cells *cells;
    double sd[PARENT_TERMS];
    double *weight;                /* [cells] Var(kept) */
    double *spawning_weight;       /* [cells] what is left when spawnings are eliminated */
    double *pair_sum;              /* [pairs] the sum of those */
    double *pair_weight;           /* [pairs] what is left when pairs are eliminated */
    enum parent_term wide, narrow; /* dam and sire; wide has more levels */
    double *wide_root;             /* [wide] roots of its diagonal */
    gsl_matrix *cross;             /* [wide × narrow] divided by wide_root */
    gsl_matrix *factor;            /* [narrow × narrow] Cholesky's */
    double log_determinant;
};

void parent_system_init(struct parent_system *system, const struct parent_cells *cells);
void parent_system_done(struct parent_system *system);

/* Sets `sd` and factors with the weights that stand in the system. False where they are no
 * numbers. */
bool parent_system_factor(struct parent_system *system, const double *sd);

/* Replaces the right side by the solution. */
void parent_system_solve(const struct parent_system *system, struct parent_vector *vector);

/* ret[i] = the sum of cell i's effects, on the logit scale; and its transpose: adds up `cells` by
 * levels, in units of standard deviations. */
void parent_system_spread(const struct parent_system *system, const struct parent_vector *vector,
                          double *ret);
void parent_system_gather(const struct parent_system *system, const double *cells,
                          struct parent_vector *ret);

#endif
