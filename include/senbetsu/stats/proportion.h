/* The interval of one proportion. */
#ifndef SENBETSU_STATS_PROPORTION_H
#define SENBETSU_STATS_PROPORTION_H

#include <stdint.h>

struct interval {
    double low, high;
};

/* Wilson's score interval without continuity correction for `kept` of `total` (total > 0,
 * 0 <= kept <= total) at `confidence` (0.95): Wilson 1927, J Am Stat Assoc 22:209–212; method 3 of
 * Newcombe 1998, Stat Med 17:857–872. Fractions between 0 and 1. */
struct interval wilson_interval(int64_t kept, int64_t total, double confidence);

/* The same for a share (0 to 1) that is known as well as if it had been found in `number` fish, a
 * whole number or not (> 0). */
struct interval wilson_share_interval(double share, double number, double confidence);

/* The exact interval of Clopper and Pearson 1934, Biometrika 26:404–413 (method 5 of Newcombe
 * 1998): two-sided, so that each end leaves out at most half of what the confidence does, also for
 * none and for all. It never covers less often than it says. `confidence` at least
 * 0.8. */
struct interval clopper_pearson_interval(int64_t kept, int64_t total, double confidence);

#endif
