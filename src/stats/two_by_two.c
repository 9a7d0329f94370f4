/* A single table has exact methods (Newcombe, Fisher), several strata those of Mantel and Haenszel,
 * which hold for few large strata as for many small ones. */
#include "senbetsu/stats/two_by_two.h"

#include <float.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

struct significance significance_chi_squared(double statistic, int df)
{
    return (struct significance){
        .known = true, .statistic = statistic, .df = df, .p = gsl_cdf_chisq_Q(statistic, df)};
}

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

/* A stratum in the letters of the literature: `a` of `n1` were kept in the first group, `c` of `n0`
 * in the second, `m` of `n` in both. */
struct stratum {
    double a, b, c, d, n1, n0, m, n;
};

static struct stratum stratum_of(const struct two_groups *groups)
{
    double a = (double)groups->kept_a;
    double c = (double)groups->kept_b;
    double n1 = (double)groups->in_a;
    double n0 = (double)groups->in_b;
    return (struct stratum){a, n1 - a, c, n0 - c, n1, n0, a + c, n1 + n0};
}

struct estimate mantel_haenszel_difference(const struct two_groups *strata, size_t count,
                                           double confidence)
{
    double weights = 0, sum = 0, p = 0, q = 0;
    for (size_t i = 0; i < count; i++) {
        struct stratum s = stratum_of(&strata[i]);
        weights += s.n1 * s.n0 / s.n;
        sum += (s.a * s.n0 - s.c * s.n1) / s.n;
        p +=
            (s.n1 * s.n1 * s.c - s.n0 * s.n0 * s.a + s.n1 * s.n0 * (s.n0 - s.n1) / 2) / (s.n * s.n);
        q += (s.a * s.d + s.c * s.b) / (2 * s.n);
    }
    if (weights <= 0)
        return (struct estimate){.known = false};
    double difference = sum / weights;
    double variance = difference * p + q;
    double reach = normal_quantile(confidence) * sqrt(fmax(0, variance)) / weights;
    return (struct estimate){
        .known = true,
        .has_interval = variance > 1e-12 * q, /* rounding leaves a little where it is 0 */
        .value = difference,
        .interval = {difference - reach, difference + reach},
    };
}

struct estimate mantel_haenszel_odds_ratio(const struct two_groups *strata, size_t count,
                                           double confidence)
{
    double r = 0, s = 0, pr = 0, ps_qr = 0, qs = 0;
    for (size_t i = 0; i < count; i++) {
        struct stratum t = stratum_of(&strata[i]);
        double agree = (t.a + t.d) / t.n;
        double disagree = (t.b + t.c) / t.n;
        double ri = t.a * t.d / t.n;
        double si = t.b * t.c / t.n;
        r += ri;
        s += si;
        pr += agree * ri;
        ps_qr += agree * si + disagree * ri;
        qs += disagree * si;
    }
    if (s <= 0)
        return (struct estimate){.known = false};
    if (r <= 0)
        return (struct estimate){.known = true};
    double ratio = r / s;
    double variance = pr / (2 * r * r) + ps_qr / (2 * r * s) + qs / (2 * s * s);
    double reach = exp(normal_quantile(confidence) * sqrt(variance));
    return (struct estimate){.known = true,
                             .has_interval = true,
                             .value = ratio,
                             .interval = {ratio / reach, ratio * reach}};
}

struct significance mantel_haenszel_equal(const struct two_groups *strata, size_t count)
{
    double surplus = 0, variance = 0;
    for (size_t i = 0; i < count; i++) {
        struct stratum s = stratum_of(&strata[i]);
        surplus += s.a - s.n1 * s.m / s.n;
        variance += s.n1 * s.n0 * s.m * (s.n - s.m) / (s.n * s.n * (s.n - 1));
    }
    if (variance <= 0)
        return (struct significance){.known = false};
    return significance_chi_squared(surplus * surplus / variance, 1);
}

/* What would be kept of the first group, the margins being what they are, at this odds ratio: the
 * root that leaves no cell negative, written so that no digits are lost, at a ratio of 1 either. */
static double expected_kept(const struct stratum *s, double ratio)
{
    double linear = s->n0 - s->m + ratio * (s->n1 + s->m);
    double root = sqrt(linear * linear + 4 * (1 - ratio) * ratio * s->n1 * s->m);
    return linear >= 0 ? 2 * ratio * s->n1 * s->m / (linear + root)
                       : (root - linear) / (2 * (1 - ratio));
}

struct significance mantel_haenszel_alike(const struct two_groups *strata, size_t count)
{
    struct estimate ratio = mantel_haenszel_odds_ratio(strata, count, CONFIDENCE_LEVEL);
    int informative = 0;
    double statistic = 0;
    for (size_t i = 0; ratio.has_interval && i < count; i++) {
        struct stratum s = stratum_of(&strata[i]);
        if (s.m == 0 || s.m == s.n)
            continue;
        double kept = expected_kept(&s, ratio.value);
        double surplus = s.a - kept;
        statistic += surplus * surplus *
                     (1 / kept + 1 / (s.m - kept) + 1 / (s.n1 - kept) + 1 / (s.n0 - s.m + kept));
        informative++;
    }
    return informative < 2 ? (struct significance){.known = false}
                           : significance_chi_squared(statistic, informative - 1);
}
