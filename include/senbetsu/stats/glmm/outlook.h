/* What a breeder wants to know of crosses: the keep rate to expect, how sure that is, and which are
 * likely to be among the best. docs/pairs.md tells it without mathematics. */
#ifndef SENBETSU_STATS_GLMM_OUTLOOK_H
#define SENBETSU_STATS_GLMM_OUTLOOK_H

#include "senbetsu/stats/glmm/expect.h"
#include "senbetsu/stats/proportion.h"

enum { OUTLOOK_BEST = 3 };
#define OUTLOOK_CONFIDENCE 0.9

/* Shares between 0 and 1. */
struct parent_outlook {
    double expected;          /* at the estimates of the model */
    struct interval interval; /* of the cross in the long run */
    struct interval spawning; /* of its next spawning, which has luck of its own */
    double best; /* the chance to be one of the OUTLOOK_BEST best in the long run, among the crosses
                    of its variety that were asked for */
};

/* Crosses have their spawning left out. Intervals are symmetric on the logit scale, with the whole
 * variance of parent_model_expect. The chances are counted in `draws` draws (parent_draws.h). */
void parent_outlook_find(const struct parent_model *model, const struct parent_cross *crosses,
                         int count, int draws, uint64_t seed, struct parent_outlook *ret);

/* The keep rate that a sum on the logit scale stands for, and the interval around it. */
double parent_share(double logit);
struct interval parent_share_interval(double logit, double variance);

#endif
