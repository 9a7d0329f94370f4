/* Two groups of fish, and whether more of one were kept than of the other: 2×2 tables, a single one
 * or one for each of several strata. */
#ifndef SENBETSU_STATS_TWO_BY_TWO_H
#define SENBETSU_STATS_TWO_BY_TWO_H

#include "senbetsu/stats/proportion.h"

#include <stdbool.h>
#include <stddef.h>

/* Where `known` is false, the test cannot be made and the rest is 0. */
struct significance {
    bool known;
    double statistic;
    int df; /* degrees of freedom; 0 = it has none */
    double p;
};

/* Of a statistic that has the chi-squared distribution if there is nothing to find. */
struct significance significance_chi_squared(double statistic, int df);

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

/* Several strata, such as seasons: each is compared within itself only, so that what differs
 * between strata does not count for either group. All strata must be two_groups_valid. Formulas and
 * their sources: docs/compare.md. */

/* What is not `known` cannot be computed; there may be a value without an interval. */
struct estimate {
    bool known, has_interval;
    double value;
    struct interval interval;
};

/* The difference of the shares kept, a − b, weighted as Mantel and Haenszel did (Greenland and
 * Robins 1985, Biometrics 41:55–68), with the interval of Sato 1989, Biometrics 45:1323–1324, which
 * holds for few large strata as for many small ones. It is not cut at -1 and 1. There is none where
 * its variance comes out as 0. */
struct estimate mantel_haenszel_difference(const struct two_groups *strata, size_t count,
                                           double confidence);

/* The odds ratio of Mantel and Haenszel 1959, J Natl Cancer Inst 22:719–748, with the interval of
 * Robins, Breslow and Greenland 1986, Biometrics 42:311–323. Of a single stratum it is the odds
 * ratio itself with the interval of its logarithm. Not known where it would be infinite, no
 * interval where it is 0. */
struct estimate mantel_haenszel_odds_ratio(const struct two_groups *strata, size_t count,
                                           double confidence);

/* Are the groups alike? Cochran 1954, Biometrics 10:417–451, and Mantel and Haenszel 1959, without
 * continuity correction. */
struct significance mantel_haenszel_equal(const struct two_groups *strata, size_t count);

/* Is the odds ratio the same in all strata? Breslow and Day 1980, Statistical Methods in Cancer
 * Research 1, p. 142. A stratum in which all fish were kept or none says nothing: it is left out
 * and the degrees of freedom are fewer. Not known with fewer than two others. */
struct significance mantel_haenszel_alike(const struct two_groups *strata, size_t count);

#endif
