#include "senbetsu/stats/mantel_haenszel.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

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

static double normal_quantile(double confidence)
{
    return gsl_cdf_ugaussian_Qinv((1 - confidence) / 2);
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
    struct estimate ratio = mantel_haenszel_odds_ratio(strata, count, 0.95);
    int telling = 0;
    double statistic = 0;
    for (size_t i = 0; ratio.has_interval && i < count; i++) {
        struct stratum s = stratum_of(&strata[i]);
        if (s.m == 0 || s.m == s.n)
            continue;
        double kept = expected_kept(&s, ratio.value);
        double surplus = s.a - kept;
        statistic += surplus * surplus *
                     (1 / kept + 1 / (s.m - kept) + 1 / (s.n1 - kept) + 1 / (s.n0 - s.m + kept));
        telling++;
    }
    return telling < 2 ? (struct significance){.known = false}
                       : significance_chi_squared(statistic, telling - 1);
}
