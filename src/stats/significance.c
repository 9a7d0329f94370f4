#include "senbetsu/stats/significance.h"

#include <gsl/gsl_cdf.h>

struct significance significance_chi_squared(double statistic, int df)
{
    return (struct significance){
        .known = true, .statistic = statistic, .df = df, .p = gsl_cdf_chisq_Q(statistic, df)};
}
