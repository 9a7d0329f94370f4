/* What a parent model expects of crosses, of those that were set and of those that were not: the
 * keep rate, how sure that is, and which are likely to be among the best. docs/pairs.md explains it
 * without mathematics. */
#ifndef SENBETSU_STATS_GLMM_PREDICTIONS_H
#define SENBETSU_STATS_GLMM_PREDICTIONS_H

#include "senbetsu/base/watch.h"
#include "senbetsu/stats/glmm/model.h"
#include "senbetsu/stats/proportion.h"

enum {
    PARENT_NEW = -1,     /* a level that is not in the data, with all of its term's variance */
    PARENT_WITHOUT = -2, /* the term left out: the middle of all its levels */
    /* The mean of all seasons that have a finite level and in which the variety, or others that are
     * compared with it, were culled. */
    PARENT_TYPICAL = -1,
    PARENT_ANY_VARIETY = -1, /* all varieties weighted equally */
};

/* Season and variety must have a finite level; levels of terms that are not in the model are not
 * looked at. But where each pair was set once (PARENT_SAME_AS_SPAWNING), a sixth of the variance
 * between spawnings is taken to be its pair's: a cross without a spawning has that part of it,
 * unless the pair is left out as well. */
struct parent_cross {
    int season, variety;
    int level[PARENT_TERMS];
};

/* On the logit scale. */
struct parent_expectation {
    double mean;
    double conditional_variance; /* as if the estimates of the model were the truth */
    double variance; /* with the uncertainty of seasons, varieties and standard deviations */
};

/* Has the variety a finite level? */
bool parent_model_knows(const struct parent_model *model, int variety);

struct parent_expectation parent_model_expect(const struct parent_model *model,
                                              const struct parent_cross *cross);

/* Many at once, whose spawnings are left out: much quicker than one by one. */
void parent_model_expect_each(const struct parent_model *model, const struct parent_cross *crosses,
                              int count, struct parent_expectation *ret);

/* `cross` less `other`; new levels are not the same in both. */
struct parent_expectation parent_model_difference(const struct parent_model *model,
                                                  const struct parent_cross *cross,
                                                  const struct parent_cross *other);

enum { PREDICTION_BEST = 3 };
#define PREDICTION_CONFIDENCE 0.9

/* Shares between 0 and 1. */
struct parent_prediction {
    double expected;          /* at the estimates of the model */
    struct interval interval; /* of the cross in the long run */
    struct interval spawning; /* of its next spawning, which varies by itself as well */
    double best; /* the chance to be one of the PREDICTION_BEST best in the long run, among the
                    crosses of its variety that were asked for */
};

/* Crosses must have their spawning left out. Intervals are symmetric on the logit scale, with the
 * whole variance of parent_model_expect. The chances are counted in `draws` draws of everything
 * that is not known for certain; the same seed gives the same. Without draws they are 0. `watch`
 * (may be NULL) is told of them; false = it gave up. */
bool parent_model_predict(const struct parent_model *model, const struct parent_cross *crosses,
                          int count, int draws, uint64_t seed, const struct watch *watch,
                          struct parent_prediction *ret);

/* The share that a sum on the logit scale stands for, and the interval around it. */
double parent_share(double logit);
struct interval parent_share_interval(double logit, double variance);

#endif
