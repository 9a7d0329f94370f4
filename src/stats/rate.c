/* Rates multiply, so their errors add up as squares on the logarithmic scale. Where all fish were
 * counted the interval is Wilson's, of as many fish as would tell the chained rate equally well;
 * errors of estimated numbers widen it from there. */
#include "senbetsu/stats/rate.h"

#include <math.h>

static double kept_share(const struct cull *cull)
{
    return (double)cull->kept / (double)cull->in;
}

double rate_chained(const struct cull *culls, int count)
{
    double rate = 1;
    for (int i = 0; i < count; i++)
        rate *= kept_share(&culls[i]);
    return rate;
}

/* How many fish would have to be counted in one cull to know a rate between 0 and 1 as well as
 * these culls do, but for the errors of estimates. Relative variances add up: (1-p)/(p·n) each.
 * Where every cull takes over all that the one before kept, it comes out as the fish that went into
 * the first. */
static double equal_number(const struct cull *culls, int count, double rate)
{
    double variance = 0;
    for (int i = 0; i < count; i++) {
        double share = kept_share(&culls[i]);
        variance += (1 - share) / (share * (double)culls[i].in);
    }
    return (1 - rate) / (rate * variance);
}

/* The same where one cull kept none: what the formula above tends to. Infinite where two did. */
static double equal_number_of_none(const struct cull *culls, int count)
{
    double number = 1;
    for (int i = 0; i < count; i++)
        number *= culls[i].kept == 0 ? (double)culls[i].in : 1 / kept_share(&culls[i]);
    return number;
}

/* Where every cull kept all. */
static double equal_number_of_all(const struct cull *culls, int count)
{
    int64_t least = culls[0].in;
    for (int i = 1; i < count; i++)
        if (culls[i].in < least)
            least = culls[i].in;
    return (double)least;
}

/* Does this cull begin with the number that the one before ended with? */
static bool goes_on(const struct cull *before, const struct cull *cull)
{
    return cull->in == before->kept && cull->in_cv == before->kept_cv;
}

/* The relative variance that the errors of estimates bring in. */
static double estimates_variance(const struct cull *culls, int count)
{
    double variance = 0;
    for (int i = 0; i < count; i++) {
        bool in = i == 0 || !goes_on(&culls[i - 1], &culls[i]);
        bool kept = i == count - 1 || !goes_on(&culls[i], &culls[i + 1]);
        variance += in ? culls[i].in_cv * culls[i].in_cv : 0;
        variance += kept ? culls[i].kept_cv * culls[i].kept_cv : 0;
        variance -= in && kept ? 2 * culls[i].covariance : 0;
    }
    return fmax(0, variance);
}

static bool has_interval(const struct cull *culls, int count)
{
    int none = 0;
    for (int i = 0; i < count; i++) {
        if (culls[i].in <= 0 || culls[i].kept > culls[i].in)
            return false;
        none += culls[i].kept == 0;
    }
    return none <= 1;
}

/* Distances on the logarithmic scale add up as squares: the one to Wilson's end and that of the
 * estimates. */
static struct interval widened(double rate, struct interval wilson, double reach)
{
    return (struct interval){
        .low = rate * exp(-hypot(log(rate / wilson.low), reach)),
        .high = fmin(1, rate * exp(hypot(log(wilson.high / rate), reach))),
    };
}

bool rate_interval(const struct cull *culls, int count, double confidence, struct interval *ret)
{
    if (!has_interval(culls, count))
        return false;
    double rate = rate_chained(culls, count);
    double reach = normal_quantile(confidence) * sqrt(estimates_variance(culls, count));
    if (count == 1 && reach == 0)
        *ret = wilson_interval(culls[0].kept, culls[0].in, confidence);
    else if (rate == 0)
        *ret =
            wilson_share_interval(0, equal_number_of_none(culls, count) / (1 + reach), confidence);
    else if (rate == 1)
        *ret = widened(1, wilson_share_interval(1, equal_number_of_all(culls, count), confidence),
                       reach);
    else
        *ret = widened(
            rate, wilson_share_interval(rate, equal_number(culls, count, rate), confidence), reach);
    return true;
}
