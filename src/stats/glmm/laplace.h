/* The likelihood of a parent model by Laplace's approximation, and its slope. A point is `columns`
 * fixed effects followed by PARENT_TERMS standard deviations; what comes out is even in each of the
 * latter, so that zero is no border. */
#ifndef STATS_PARENT_LAPLACE_H
#define STATS_PARENT_LAPLACE_H

#include "design.h"
#include "inverse.h"

struct parent_laplace {
    const struct parent_cells *cells;
    const struct parent_design *design;
    int size; /* of a point */
    struct parent_system system;
    struct parent_inverse inverse;
    struct parent_vector modes;    /* of the random effects, in units of standard deviations */
    double deviance;               /* -2 log likelihood, without binomial coefficients */
    double *residual;              /* [cells] kept less expected */
    double *fixed, *eta, *scratch; /* [cells] */
    struct parent_vector step, preview;
};

void parent_laplace_init(struct parent_laplace *laplace, const struct parent_cells *cells,
                         const struct parent_design *design);
void parent_laplace_done(struct parent_laplace *laplace);

/* Finds modes and deviance at `point`, beginning with the modes that are there. False where there
 * are none to be found. */
bool parent_laplace_at(struct parent_laplace *laplace, const double *point);

/* The slope of the deviance [size] where parent_laplace_at last was. */
void parent_laplace_slope(struct parent_laplace *laplace, double *ret);

/* Replaces `weights` by the system's solution, and adds to `ret_fixed` [columns] the slope to fixed
 * effects of the sum of modes, each times its weight. */
void parent_laplace_solve(const struct parent_laplace *laplace, struct parent_vector *weights,
                          double *ret_fixed);

/* Moves the fixed effects of `point` to their joint mode with the random ones, standard deviations
 * held, by at most `steps` steps. Sets `ret_factor` [columns × columns] to Cholesky's factor of the
 * information on them, and leaves `laplace` at `point`. False where there is no such mode. */
bool parent_laplace_approach(struct parent_laplace *laplace, double *point, int steps,
                             gsl_matrix *ret_factor);

#endif
