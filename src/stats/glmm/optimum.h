/* Where the likelihood of a parent model is greatest, and how it curves there. */
#ifndef STATS_PARENT_OPTIMUM_H
#define STATS_PARENT_OPTIMUM_H

#include "laplace.h"

struct parent_optimum {
    double *point; /* [size], standard deviations >= 0 */
    double deviance;
    /* [size × size] of the point; 0 for terms that are not in the model. A standard deviation that
     * is zero goes along with nothing; its variance is the square of where the deviance is one
     * higher. */
    gsl_matrix *covariance;
};

/* Leaves `laplace` at the optimum. Fails where there is none: where fixed effects or standard
 * deviations run away. */
bool parent_optimum_find(struct parent_laplace *laplace, const enum parent_fit *fit,
                         struct parent_optimum *ret, struct err *err);
void parent_optimum_done(struct parent_optimum *optimum);

#endif
