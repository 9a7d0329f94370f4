/* Two pairs of parents side by side, for the choice between them: as CSV, and on paper with each
 * test told in a sentence (docs/compare.md). */
#ifndef SENBETSU_PRINT_COMPARISON_H
#define SENBETSU_PRINT_COMPARISON_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/comparison.h"

/* season,in_a,kept_a,in_b,kept_b,difference,low,high,odds_ratio,or_low,or_high,p_equal,p_seasons */
void compare_csv(const struct comparison *comparison, struct text *out);

void compare_print(const struct comparison *comparison, struct page_setup setup, struct text *out);

#endif
