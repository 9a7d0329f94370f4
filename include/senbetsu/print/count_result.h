/* What a count by samples has found. */
#ifndef SENBETSU_PRINT_COUNT_RESULT_H
#define SENBETSU_PRINT_COUNT_RESULT_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/stats/counting.h"

struct count_result {
    enum method method; /* weighed, displaced or scooped */
    const struct sample *samples;
    int sample_count;
    double total; /* what all fish weigh or displace, or how many scoops they are */
    struct counting counting;
    double within; /* the precision wanted, 0.05 = 5 % to either side; 0 = not asked */
    /* Of fish that were weighed; 0 = not said. */
    double length_mm; /* of one fish, on average; the weights are then in grams */
    double before;    /* what one weighed … */
    int64_t days;     /* … so many days ago */
};

/* number,low,high,cv and then what was asked for: more_samples, condition_factor, growth_per_day
 * (in per cent). The number is of whole fish; what cannot be computed is empty. */
void count_result_csv(const struct count_result *result, struct text *out);

/* For people, in plain ASCII: the number, how it was made, how sure it is, how many more samples
 * the wanted precision takes. */
void count_result_print(const struct count_result *result, struct text *out);

#endif
