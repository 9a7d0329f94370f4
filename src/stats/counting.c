/* Ratio estimates from samples, with Student's interval: with few samples, as there are, a normal
 * one would be far too short. */
#include "senbetsu/stats/counting.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Student's t for a 95 % interval from so many samples. */
static double t_of(int64_t samples)
{
    return gsl_cdf_tdist_Qinv(0.025, (double)(samples - 1));
}

/* The part of a sample's variance that is left in the mean of so many: 1/k, less 1/K where the
 * samples are a part of K scoops. */
static double part_left(int64_t samples, int64_t scoops)
{
    return 1 / (double)samples - (scoops > 0 ? 1 / (double)scoops : 0);
}

/* How much a single sample varies around the ratio, as a part of the mean sample. */
static double sample_cv(const struct sample *samples, int count, double fish, double measure)
{
    double squares = 0;
    for (int i = 0; i < count; i++) {
        double expected = fish / measure * samples[i].measure;
        double off = (double)samples[i].fish - expected;
        squares += off * off;
    }
    return sqrt(squares / (count - 1)) / (fish / count);
}

static struct counting count_all(const struct sample *samples, int count, double total,
                                 int64_t scoops)
{
    double fish = 0, measure = 0;
    for (int i = 0; i < count; i++) {
        fish += (double)samples[i].fish;
        measure += samples[i].measure;
    }
    struct counting counting = {
        .number = fish * total / measure, .samples = count, .scoops = scoops};
    bool complete = count == scoops;
    if (!complete && (count < 2 || fish <= 0))
        return counting;
    counting.has_interval = true;
    if (!complete)
        counting.cv = sample_cv(samples, count, fish, measure) * sqrt(part_left(count, scoops));
    double reach = complete ? 0 : t_of(count) * counting.cv;
    counting.low = counting.number * fmax(0, 1 - reach);
    counting.high = counting.number * (1 + reach);
    return counting;
}

struct counting counting_measured(const struct sample *samples, int count, double total)
{
    return count_all(samples, count, total, 0);
}

struct counting counting_scooped(const struct sample *samples, int count, int64_t scoops)
{
    return count_all(samples, count, (double)scoops, scoops);
}

static double reach_of(const struct counting *counting, int64_t samples)
{
    double left = part_left(samples, counting->scoops);
    double known = part_left(counting->samples, counting->scoops);
    return left <= 0 || counting->cv <= 0 ? 0 : t_of(samples) * counting->cv * sqrt(left / known);
}

int64_t counting_more_samples(const struct counting *counting, double within)
{
    if (!counting->has_interval)
        return -1;
    int64_t most = counting->scoops > 0 ? counting->scoops : INT64_MAX / 2;
    int64_t few = counting->samples, enough = few;
    while (enough < most && reach_of(counting, enough) > within) {
        few = enough;
        enough = enough < most / 2 ? 2 * enough : most;
    }
    while (enough - few > 1) {
        int64_t middle = few + (enough - few) / 2;
        if (reach_of(counting, middle) > within)
            few = middle;
        else
            enough = middle;
    }
    return enough - counting->samples;
}

double condition_factor(double weight_g, double length_mm)
{
    double length_cm = length_mm / 10;
    return 100 * weight_g / (length_cm * length_cm * length_cm);
}

double growth_per_day(double before, double after, double days)
{
    return 100 * log(after / before) / days;
}
