/* Wilson's interval is the usual one; Clopper and Pearson's where a promise must never be broken.
 */
#include "senbetsu/stats/proportion.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdbool.h>

double normal_quantile(double confidence)
{
    return gsl_cdf_ugaussian_Qinv((1 - confidence) / 2);
}

static struct interval wilson(double kept, double number, double confidence)
{
    double z = normal_quantile(confidence);
    double centre = (kept + z * z / 2) / (number + z * z);
    double reach = z * sqrt(kept * (number - kept) / number + z * z / 4) / (number + z * z);
    /* At the ends the formula gives 0 and 1; rounding must not carry it past them. */
    return (struct interval){
        .low = kept <= 0 ? 0 : centre - reach,
        .high = kept >= number ? 1 : centre + reach,
    };
}

struct interval wilson_interval(int64_t kept, int64_t total, double confidence)
{
    return wilson((double)kept, (double)total, confidence);
}

struct interval wilson_share_interval(double share, double number, double confidence)
{
    return wilson(share * number, number, confidence);
}

/* The share that leaves `tail` of the beta distribution under it, or above it. GSL's own inverse
 * does not converge for about one in a hundred of our cases, most of them few fish of many, and
 * would end the program; halving always arrives. */
static double beta_quantile(double tail, bool above, double a, double b)
{
    double low = 0, high = 1;
    for (;;) {
        double middle = low + (high - low) / 2;
        if (middle <= low || middle >= high)
            return middle;
        if (above ? !(gsl_cdf_beta_Q(middle, a, b) <= tail) : gsl_cdf_beta_P(middle, a, b) < tail)
            low = middle;
        else
            high = middle;
    }
}

struct interval clopper_pearson_interval(int64_t kept, int64_t total, double confidence)
{
    double k = (double)kept;
    double left = (double)(total - kept);
    double tail = (1 - confidence) / 2;
    return (struct interval){
        .low = kept == 0 ? 0 : beta_quantile(tail, false, k, left + 1),
        .high = kept == total ? 1 : beta_quantile(tail, true, k + 1, left),
    };
}

/* How far the product of a share and a number reaches, each with its own reach. */
static double product_reach(double share, double share_reach, double number, double number_reach)
{
    return hypot(hypot(number * share_reach, share * number_reach), share_reach * number_reach);
}

struct interval projection_interval(int64_t found, int64_t looked_at, int64_t number, double cv,
                                    double confidence)
{
    struct interval wilson = wilson_interval(found, looked_at, confidence);
    double share = (double)found / (double)looked_at;
    double all = (double)number;
    double reach = normal_quantile(confidence) * cv * all;
    double low = share * all - product_reach(share, share - wilson.low, all, reach);
    double high = share * all + product_reach(share, wilson.high - share, all, reach);
    double most = cv > 0 ? high : (double)(number - (looked_at - found));
    return (struct interval){.low = fmax(low, (double)found),
                             .high = fmax(fmin(high, most), (double)found)};
}
