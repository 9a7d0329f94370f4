#include "senbetsu/stats/difference.h"

#include <float.h>
#include <math.h>

bool two_groups_valid(const struct two_groups *groups)
{
    return groups->in_a > 0 && groups->in_b > 0 && groups->kept_a >= 0 && groups->kept_b >= 0 &&
           groups->kept_a <= groups->in_a && groups->kept_b <= groups->in_b;
}

static double share(int64_t kept, int64_t in)
{
    return (double)kept / (double)in;
}

double share_difference(const struct two_groups *groups)
{
    return share(groups->kept_a, groups->in_a) - share(groups->kept_b, groups->in_b);
}

struct interval newcombe_interval(const struct two_groups *groups, double confidence)
{
    struct interval a = wilson_interval(groups->kept_a, groups->in_a, confidence);
    struct interval b = wilson_interval(groups->kept_b, groups->in_b, confidence);
    double share_a = share(groups->kept_a, groups->in_a);
    double share_b = share(groups->kept_b, groups->in_b);
    double difference = share_a - share_b;
    return (struct interval){
        .low = difference - hypot(share_a - a.low, b.high - share_b),
        .high = difference + hypot(a.high - share_a, share_b - b.low),
    };
}

/* All tables with the same margins, told apart by what was kept of a. */
struct tables {
    int64_t in_a, in_b, kept;
    int64_t least, most, likeliest; /* kept of a */
};

static int64_t within(int64_t number, int64_t least, int64_t most)
{
    return number < least ? least : number > most ? most : number;
}

static struct tables tables_of(const struct two_groups *groups)
{
    int64_t kept = groups->kept_a + groups->kept_b;
    int64_t least = kept > groups->in_b ? kept - groups->in_b : 0;
    int64_t most = kept < groups->in_a ? kept : groups->in_a;
    double mode = ((double)groups->in_a + 1) * ((double)kept + 1) /
                  ((double)groups->in_a + (double)groups->in_b + 2);
    return (struct tables){.in_a = groups->in_a,
                           .in_b = groups->in_b,
                           .kept = kept,
                           .least = least,
                           .most = most,
                           .likeliest = within((int64_t)mode, least, most)};
}

/* How many times as likely the table with one more kept of a is as the one with `kept_a`. */
static double step_up(const struct tables *tables, int64_t kept_a)
{
    return (double)(tables->in_a - kept_a) * (double)(tables->kept - kept_a) /
           ((double)(kept_a + 1) * (double)(tables->in_b - tables->kept + kept_a + 1));
}

/* The probability of a table over that of the likeliest one; 0 where a double can hardly tell. */
static double weight_of(const struct tables *tables, int64_t kept_a)
{
    double weight = 1;
    for (int64_t k = tables->likeliest; k < kept_a && weight >= DBL_MIN; k++)
        weight *= step_up(tables, k);
    for (int64_t k = tables->likeliest; k > kept_a && weight >= DBL_MIN; k--)
        weight /= step_up(tables, k - 1);
    return weight >= DBL_MIN ? weight : 0;
}

/* Weights of all tables, and of those that weigh no more than `at_most`. */
struct sums {
    double all, rare, at_most;
};

static void add_weight(struct sums *sums, double weight)
{
    sums->all += weight;
    if (weight <= sums->at_most)
        sums->rare += weight;
}

/* Weights grow out from the likeliest table, so that they neither overflow nor lose digits, as
 * logarithms of factorials do where there are many fish. */
double fisher_p(const struct two_groups *groups)
{
    struct tables tables = tables_of(groups);
    const double tie = 1 + 1e-7;
    struct sums sums = {.at_most = weight_of(&tables, groups->kept_a) * tie};
    add_weight(&sums, 1);
    double weight = 1;
    for (int64_t k = tables.likeliest; k < tables.most && weight >= DBL_MIN; k++)
        add_weight(&sums, weight *= step_up(&tables, k));
    weight = 1;
    for (int64_t k = tables.likeliest; k > tables.least && weight >= DBL_MIN; k--)
        add_weight(&sums, weight /= step_up(&tables, k - 1));
    return sums.rare / sums.all;
}
