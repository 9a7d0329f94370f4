#include "senbetsu/stats/projection.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

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
    double reach = gsl_cdf_ugaussian_Qinv((1 - confidence) / 2) * cv * all;
    double low = share * all - product_reach(share, share - wilson.low, all, reach);
    double high = share * all + product_reach(share, wilson.high - share, all, reach);
    double most = cv > 0 ? high : (double)(number - (looked_at - found));
    return (struct interval){.low = fmax(low, (double)found),
                             .high = fmax(fmin(high, most), (double)found)};
}
