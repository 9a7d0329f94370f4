/* Two groups of fish, and whether more of one were kept than of the other. */
#ifndef SENBETSU_STATS_DIFFERENCE_H
#define SENBETSU_STATS_DIFFERENCE_H

#include "senbetsu/stats/proportion.h"

#include <stdbool.h>

/* How many fish of each group were looked at and how many of those were kept. */
struct two_groups {
    int64_t in_a, kept_a, in_b, kept_b;
};

/* Are there fish in both groups, and no more kept than went in? All else here asks for it. */
bool two_groups_valid(const struct two_groups *groups);

/* The share kept of a minus that of b: -1 to 1. */
double share_difference(const struct two_groups *groups);

/* Newcombe's hybrid score interval of it, from the ends of the two Wilson intervals: method 10 of
 * Newcombe 1998, Stat Med 17:873–890. */
struct interval newcombe_interval(const struct two_groups *groups, double confidence);

/* Fisher's exact test, two-sided: how likely is a table that is no likelier than this one, if both
 * groups are alike and the numbers of fish and of kept ones are given. Tables whose probability is
 * within 1 + 1e-7 of this one's count as equal, since rounding must not decide between ties. */
double fisher_p(const struct two_groups *groups);

#endif
