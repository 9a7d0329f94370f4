/* The interval of one proportion, and of how many fish of a whole lot it stands for. */
#ifndef SENBETSU_STATS_PROPORTION_H
#define SENBETSU_STATS_PROPORTION_H

#include <stdint.h>

struct interval {
    double low, high;
};

/* The confidence of every interval that is shown of shares, rates and counts. */
#define CONFIDENCE_LEVEL 0.95

/* How many standard errors a two-sided interval of the normal distribution reaches: 1.96 at 0.95.
 */
double normal_quantile(double confidence);

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

/* `found` of `looked_at` fish taken at random (looked_at > 0) were of the kind. The interval of how
 * many there are in a lot of `number` fish (> 0), known with the coefficient of variation `cv` (0 =
 * counted), at `confidence` (0.95). The ends are Wilson's times the number; the error of an
 * estimated number is added as that of a product of independent estimates is (Goodman 1960, J Am
 * Stat Assoc 55:708–713), with the distances to the ends in place of standard errors (Zou and
 * Donner 2008, Stat Med 27:1693–1702). There are never fewer than were found, and in a counted lot
 * never more than all but those that were not of the kind. That a sample is part of the lot makes
 * it surer than this where it is a large part; that is left out. */
struct interval projection_interval(int64_t found, int64_t looked_at, int64_t number, double cv,
                                    double confidence);

#endif
