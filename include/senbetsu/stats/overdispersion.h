/* Overdispersion: how much more than chance shares differ that should be the same, such as those of
 * the spawnings of one pair. */
#ifndef SENBETSU_STATS_OVERDISPERSION_H
#define SENBETSU_STATS_OVERDISPERSION_H

#include "senbetsu/stats/two_by_two.h"

#include <stddef.h>
#include <stdint.h>

/* A cluster of fish, such as a spawning (in > 0, 0 <= kept <= in), and the group, such as a season,
 * it stands in. */
struct cluster {
    int group;
    int64_t in, kept;
};

/* Pearson's chi-squared test whether the share kept is the same for all in a group, added up over
 * the groups. Members of a group stand together. Groups of one, and those in which all fish were
 * kept or none, say nothing and are left out; not known where no other is left. Statistic over
 * degrees of freedom is the dispersion: how many times the variance of chance there is. */
struct significance overdispersion_within(const struct cluster *clusters, size_t count);

/* The same without regard to groups. */
struct significance overdispersion_overall(const struct cluster *clusters, size_t count);

/* Another test of the same as overdispersion_overall, one-sided, the best there is against shares
 * that themselves vary from one to the next (beta-binomial): Tarone 1979, Biometrika 66:585–590.
 * The statistic is a standard normal deviate if there is nothing to find. */
struct significance overdispersion_tarone(const struct cluster *clusters, size_t count);

/* How far the shares themselves lie apart, chance taken away: their standard deviation, in shares.
 * 0 where chance alone explains it, also where nothing is known. The intraclass correlation by
 * moments, weighted by the fish (Kleinman 1973, J Am Stat Assoc 68:46–54), times p(1 − p). */
double overdispersion_beyond_chance(const struct cluster *clusters, size_t count);

/* That correlation; under 0 where the shares differ less than chance would have it. */
double overdispersion_intraclass(const struct cluster *clusters, size_t count);

#endif
