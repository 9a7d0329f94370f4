/* Shares are compared by Pearson's statistic around the share of all, Σ (kept − n·p)² ÷ (n·p·(1 −
 * p)); the tests and the estimates differ in what they hold it against. */
#include "senbetsu/stats/overdispersion.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

static double share_of_all(const struct cluster *clusters, size_t count)
{
    double in = 0, kept = 0;
    for (size_t i = 0; i < count; i++) {
        in += (double)clusters[i].in;
        kept += (double)clusters[i].kept;
    }
    return in > 0 ? kept / in : 0;
}

/* Σ (kept − n·p)² ÷ n */
static double squares(const struct cluster *clusters, size_t count, double share)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        double in = (double)clusters[i].in;
        double surplus = (double)clusters[i].kept - in * share;
        sum += surplus * surplus / in;
    }
    return sum;
}

/* Do they say anything? */
static bool informative(size_t count, double share)
{
    return count > 1 && share > 0 && share < 1;
}

/* Adds one group's. */
static void add_group(const struct cluster *clusters, size_t count, double *statistic, int *df)
{
    double share = share_of_all(clusters, count);
    if (!informative(count, share))
        return;
    *statistic += squares(clusters, count, share) / (share * (1 - share));
    *df += (int)count - 1;
}

static struct significance pearson(double statistic, int df)
{
    return df == 0 ? (struct significance){.known = false}
                   : significance_chi_squared(statistic, df);
}

struct significance overdispersion_within(const struct cluster *clusters, size_t count)
{
    double statistic = 0;
    int df = 0;
    for (size_t first = 0, end = 0; first < count; first = end) {
        while (end < count && clusters[end].group == clusters[first].group)
            end++;
        add_group(clusters + first, end - first, &statistic, &df);
    }
    return pearson(statistic, df);
}

struct significance overdispersion_overall(const struct cluster *clusters, size_t count)
{
    double statistic = 0;
    int df = 0;
    add_group(clusters, count, &statistic, &df);
    return pearson(statistic, df);
}

struct significance overdispersion_tarone(const struct cluster *clusters, size_t count)
{
    double share = share_of_all(clusters, count);
    double sum = 0, in = 0, pairs = 0;
    if (!informative(count, share))
        return (struct significance){.known = false};
    for (size_t i = 0; i < count; i++) {
        double n = (double)clusters[i].in;
        double surplus = (double)clusters[i].kept - n * share;
        sum += surplus * surplus / (share * (1 - share));
        in += n;
        pairs += n * (n - 1);
    }
    if (pairs <= 0)
        return (struct significance){.known = false};
    double z = (sum - in) / sqrt(2 * pairs);
    return (struct significance){.known = true, .statistic = z, .p = gsl_cdf_ugaussian_Q(z)};
}

double overdispersion_intraclass(const struct cluster *clusters, size_t count)
{
    double share = share_of_all(clusters, count);
    double in = 0, in_squared = 0;
    if (!informative(count, share))
        return 0;
    for (size_t i = 0; i < count; i++) {
        double n = (double)clusters[i].in;
        in += n;
        in_squared += n * n;
    }
    double by_chance = (double)count - 1;
    double most = in - in_squared / in;
    if (most <= by_chance) /* a fish each */
        return 0;
    return (squares(clusters, count, share) / (share * (1 - share)) - by_chance) /
           (most - by_chance);
}

double overdispersion_beyond_chance(const struct cluster *clusters, size_t count)
{
    double share = share_of_all(clusters, count);
    return sqrt(fmax(0, overdispersion_intraclass(clusters, count)) * share * (1 - share));
}
