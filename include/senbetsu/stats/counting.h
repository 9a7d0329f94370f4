/* How many fish there are, from samples that were counted: by what they weigh, by the water they
 * displace, or scoop by scoop; and how fish that were weighed stand and grow. */
#ifndef SENBETSU_STATS_COUNTING_H
#define SENBETSU_STATS_COUNTING_H

#include <stdbool.h>
#include <stdint.h>

/* `measure` is what the fish of the sample weigh or displace, in any unit (> 0); 1 for a scoop. */
struct sample {
    int64_t fish;
    double measure;
};

struct counting {
    double number; /* of fish; not rounded */
    int samples;
    int64_t scoops; /* of which the samples are a part; 0 = they were measured */
    /* Without an interval the rest is 0: one sample says nothing of how samples differ. */
    bool has_interval;
    double cv;        /* standard error of the number ÷ the number */
    double low, high; /* ends of the 95 % interval, never under 0 */
};

/* All of it measures `total`, in the samples' unit. The ratio of the sums, Σ fish ÷ Σ measure,
 * times the total; never the mean of the samples' ratios, in which a small sample counts as much as
 * a large one. Its standard error is (1/w̄)·√(Σ(nᵢ−r·wᵢ)² / (k(k−1))) for k samples (Cochran 1977,
 * Sampling Techniques, ch. 6), the interval Student's with k − 1 degrees of freedom. */
struct counting counting_measured(const struct sample *samples, int count, double total);

/* `count` of `scoops` scoops were counted (count <= scoops). The mean times the scoops; since only
 * the scoops that were not counted are in doubt, the variance shrinks by 1 − count/scoops (Thompson
 * 2012, Sampling, ch. 2). When all were counted, the number is exact. */
struct counting counting_scooped(const struct sample *samples, int count, int64_t scoops);

/* How many more samples like these the interval needs to reach no further than `within` (0.05: 5 %)
 * of the number to either side; 0 = it does already. -1 where there is no interval. */
int64_t counting_more_samples(const struct counting *counting, double within);

/* Fulton's condition factor, 100 · weight ÷ length³ with grams and centimetres. Only fish measured
 * in the same way compare, and fry are not built like fish yet. */
double condition_factor(double weight_g, double length_mm);

/* Per cent a day, as if growth went on evenly by compound interest:
 * 100 · (ln after − ln before) ÷ days. Weights in any unit. */
double growth_per_day(double before, double after, double days);

#endif
