/* Sums of culls. Errors of numbers made independently add up as squares; the two numbers of one
 * cull may share an error, which their covariance tells. */
#include "senbetsu/stats/cull.h"

#include <math.h>

static double cv_of_sum(int64_t a, double a_cv, int64_t b, double b_cv)
{
    return a + b == 0 ? 0 : hypot((double)a * a_cv, (double)b * b_cv) / (double)(a + b);
}

static double covariance_in_fish(const struct cull *cull)
{
    return (double)cull->in * (double)cull->kept * cull->covariance;
}

static double covariance_of_sum(const struct cull *a, const struct cull *b)
{
    double fish = (double)(a->in + b->in) * (double)(a->kept + b->kept);
    return fish > 0 ? (covariance_in_fish(a) + covariance_in_fish(b)) / fish : 0;
}

/* The numbers of one that is done, with how far another is. */
static struct cull beside(struct cull done, const struct cull *other)
{
    done.done += other->done;
    done.whole += other->whole;
    done.outdated |= other->outdated;
    return done;
}

struct cull cull_sum(struct cull a, struct cull b)
{
    if (a.not_done != b.not_done)
        return a.not_done ? beside(b, &a) : beside(a, &b);
    return (struct cull){
        .not_done = a.not_done,
        .outdated = a.outdated || b.outdated,
        .in = a.in + b.in,
        .kept = a.kept + b.kept,
        .in_cv = cv_of_sum(a.in, a.in_cv, b.in, b.in_cv),
        .kept_cv = cv_of_sum(a.kept, a.kept_cv, b.kept, b.kept_cv),
        .covariance = covariance_of_sum(&a, &b),
        .dead = a.dead < 0   ? b.dead
                : b.dead < 0 ? a.dead
                             : a.dead + b.dead,
        .done = a.done + b.done,
        .whole = a.whole + b.whole,
        .so_far = a.so_far || b.so_far,
        .estimated = a.estimated || b.estimated,
        .error_unknown = a.error_unknown || b.error_unknown,
        .recovered = a.recovered || b.recovered,
    };
}

struct cull cull_span(const struct cull *first, const struct cull *last)
{
    struct cull span = *last;
    if (first == last)
        return span;
    span.in = first->in;
    span.in_cv = first->in_cv;
    span.covariance = 0;
    span.dead = -1;
    span.estimated |= first->estimated;
    span.error_unknown |= first->error_unknown;
    span.recovered |= first->recovered;
    return span;
}

bool cull_at_work(const struct cull *cull)
{
    return cull->so_far || cull->whole > 0;
}
