/* Keep rates, of one cull or chained over several, and how sure they are when some of the numbers
 * are estimates. The method is told in docs/rates.md. */
#ifndef SENBETSU_STATS_RATE_H
#define SENBETSU_STATS_RATE_H

#include "senbetsu/stats/cull.h"
#include "senbetsu/stats/proportion.h"

#include <stdbool.h>

/* kept/in, multiplied over `count` culls that followed one another (count > 0, each in > 0). May be
 * above 1 where fish were found again. */
double rate_chained(const struct cull *culls, int count);

/* The interval of rate_chained at `confidence` (0.95): Wilson's where all fish were counted, else
 * widened by the errors of the numbers; always within 0 and 1. A cull that begins with the very
 * number another ended with, made with the same error, has nothing new in it: that error falls out.
 * False, and nothing set, where there is no interval: no fish went in, or more were kept than went
 * in. */
bool rate_interval(const struct cull *culls, int count, double confidence, struct interval *ret);

#endif
