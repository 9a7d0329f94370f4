#include "senbetsu/stats/proportion.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

struct interval wilson_interval(int64_t kept, int64_t total, double confidence)
{
    double n = (double)total;
    double k = (double)kept;
    double z = gsl_cdf_ugaussian_Qinv((1 - confidence) / 2);
    double centre = (k + z * z / 2) / (n + z * z);
    double reach = z * sqrt(k * (n - k) / n + z * z / 4) / (n + z * z);
    /* At the ends the formula gives 0 and 1; rounding must not carry it past them. */
    return (struct interval){
        .low = kept == 0 ? 0 : centre - reach,
        .high = kept == total ? 1 : centre + reach,
    };
}
