/* What a count by samples has found, as CSV and in words below the command or the form. */
#ifndef SENBETSU_PRINT_SAMPLES_H
#define SENBETSU_PRINT_SAMPLES_H

#include "senbetsu/base/text.h"
#include "senbetsu/report/samples.h"

/* number,low,high,cv and then what was asked for: more_samples, condition_factor, growth_per_day
 * (in per cent). The number is of whole fish; what cannot be computed is empty. */
void count_result_csv(const struct count_result *result, struct text *out);

/* For people, in plain ASCII: the number, how it was made, how sure it is, how many more samples
 * the wanted precision takes. */
void count_result_print(const struct count_result *result, struct text *out);

#endif
