/* From a sample to the whole: how many of a lot are of a kind that was found in some of them. */
#ifndef SENBETSU_STATS_PROJECTION_H
#define SENBETSU_STATS_PROJECTION_H

#include "senbetsu/stats/proportion.h"

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
