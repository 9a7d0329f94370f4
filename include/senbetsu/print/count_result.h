/* What a count by samples has found. */
#ifndef SENBETSU_PRINT_COUNT_RESULT_H
#define SENBETSU_PRINT_COUNT_RESULT_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/stats/counting.h"

struct count_result {
    enum how how; /* weighed, displaced or scooped */
    const struct sample *samples;
    int sample_count;
    double total; /* what all fish weigh or displace, or how many scoops they are */
    struct counting counting;
    double within; /* the precision wanted, 0.05 = 5 % to either side; 0 = not asked */
};

/* number,low,high,cv and, where a precision is wanted, more_samples. The number is of whole fish;
 * what cannot be computed is empty. */
void count_result_csv(const struct count_result *result, struct text *out);

/* For people, in plain ASCII: the number, how it was made, how sure it is, how many more samples
 * the wanted precision takes. */
void count_result_print(const struct count_result *result, struct text *out);

#endif
