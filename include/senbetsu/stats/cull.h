/* One cull, or several taken as one: how many fish went in, how many were kept, how sure both
 * numbers are and what is doubtful about them. The one struct that reports, statistics, print and
 * screens pass on. */
#ifndef SENBETSU_STATS_CULL_H
#define SENBETSU_STATS_CULL_H

#include <stdbool.h>
#include <stdint.h>

/* A cv is the standard error of a number over the number; 0 = counted fish by fish. */
struct cull {
    int64_t in, kept;
    double in_cv, kept_cv;
    double covariance; /* of both relative errors; 0 = made independently */
};

/* Two culls taken as one; their numbers were made independently. */
struct cull cull_sum(struct cull a, struct cull b);

#endif
