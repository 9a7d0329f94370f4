#include "senbetsu/stats/cull.h"

#include <math.h>

static double cv_of_sum(int64_t a, double a_cv, int64_t b, double b_cv)
{
    return a + b == 0 ? 0 : hypot((double)a * a_cv, (double)b * b_cv) / (double)(a + b);
}

static double shared_in_fish(const struct cull *cull)
{
    return (double)cull->in * (double)cull->kept * cull->covariance;
}

static double shared_of_sum(const struct cull *a, const struct cull *b)
{
    double fish = (double)(a->in + b->in) * (double)(a->kept + b->kept);
    return fish > 0 ? (shared_in_fish(a) + shared_in_fish(b)) / fish : 0;
}

struct cull cull_sum(struct cull a, struct cull b)
{
    return (struct cull){
        .in = a.in + b.in,
        .kept = a.kept + b.kept,
        .in_cv = cv_of_sum(a.in, a.in_cv, b.in, b.in_cv),
        .kept_cv = cv_of_sum(a.kept, a.kept_cv, b.kept, b.kept_cv),
        .covariance = shared_of_sum(&a, &b),
    };
}
