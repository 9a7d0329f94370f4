/* What a statistical test has found. */
#ifndef SENBETSU_STATS_SIGNIFICANCE_H
#define SENBETSU_STATS_SIGNIFICANCE_H

#include <stdbool.h>

/* Where `known` is false, the test cannot be made and the rest is 0. */
struct significance {
    bool known;
    double statistic;
    int df; /* degrees of freedom; 0 = it has none */
    double p;
};

/* Of a statistic that has the chi-squared distribution if there is nothing to find. */
struct significance significance_chi_squared(double statistic, int df);

#endif
