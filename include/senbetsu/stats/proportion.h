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

#endif
