/* Draws from what a parent model knows: how the spawnings of crosses may come out together, with
 * all that is not known of seasons, parents and spreads. */
#ifndef SENBETSU_STATS_GLMM_DRAWS_H
#define SENBETSU_STATS_GLMM_DRAWS_H

#include "senbetsu/stats/glmm/expect.h"

struct parent_draws;

/* The same seed draws the same numbers. The model must live as long as the draws. */
struct parent_draws *parent_draws_new(const struct parent_model *model,
                                      const struct parent_cross *crosses, int count, uint64_t seed);
void parent_draws_free(struct parent_draws *draws);

/* The next draw: ret[i] of crosses[i], on the logit scale. A new level is drawn for each cross. */
void parent_draws_next(struct parent_draws *draws, double *ret);

#endif
