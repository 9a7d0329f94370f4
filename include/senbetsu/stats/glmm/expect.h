/* What a parent model expects of spawnings: of crosses that were set and of those that were not.
 * All numbers are on the logit scale. */
#ifndef SENBETSU_STATS_GLMM_EXPECT_H
#define SENBETSU_STATS_GLMM_EXPECT_H

#include "senbetsu/stats/glmm/model.h"

enum {
    PARENT_NEW = -1,         /* a level that is not in the data, with all of its term's spread */
    PARENT_WITHOUT = -2,     /* the term left out: the middle of all its levels */
    PARENT_TYPICAL = -1,     /* the mean of all seasons that have a finite level and in which the
                                variety,     or others that are compared with it, were culled */
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

struct parent_expectation {
    double mean;
    double conditional_variance; /* as if the estimates of the model were the truth */
    double variance; /* with what is not known of them: of seasons, varieties, spreads */
};

/* Has the variety a finite level? */
bool parent_model_knows(const struct parent_model *model, int variety);

struct parent_expectation parent_model_expect(const struct parent_model *model,
                                              const struct parent_cross *cross);

/* `cross` less `other`; new levels are not the same in both. */
struct parent_expectation parent_model_difference(const struct parent_model *model,
                                                  const struct parent_cross *cross,
                                                  const struct parent_cross *other);

#endif
