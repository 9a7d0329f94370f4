/* Two groups of fish over several strata, such as seasons: each stratum is compared within itself
 * only, so that what differs between strata does not count for either group. All strata must be
 * two_groups_valid. Formulas and their sources: docs/compare.md. */
#ifndef SENBETSU_STATS_MANTEL_HAENSZEL_H
#define SENBETSU_STATS_MANTEL_HAENSZEL_H

#include "senbetsu/stats/difference.h"
#include "senbetsu/stats/significance.h"

#include <stddef.h>

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
