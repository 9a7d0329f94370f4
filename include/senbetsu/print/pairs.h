/* Pairs over the seasons, and crosses that were not tried yet, for choosing what to set: as CSV and
 * as a chart on paper. The screen of pairs draws on the same scale (docs/pairs.md). */
#ifndef SENBETSU_PRINT_PAIRS_H
#define SENBETSU_PRINT_PAIRS_H

#include "senbetsu/print/effects.h"
#include "senbetsu/report/pairs.h"

/* Lists UNTRIED_SHOWN untried crosses of each variety at most; the CSV has all. */
enum { UNTRIED_SHOWN = 12 };
void pairs_print(const struct pairs_table *table, struct page_setup setup, struct text *out);

/* dam,sires,siring,seasons,spawnings,in,kept,rate,low,high,expected,expected_low,expected_high,best,
 * variety,untried,spawning_low,spawning_high,dam_spawnings,sire_spawnings,offspring_inbreeding,
 * tosai,tosai_low,tosai_high */
void pairs_csv(const struct pairs_table *table, struct text *out);

/* Where a share stands on a scale from 0 to `most`, in cells from 0. */
int pairs_cell(double share, double most, int cells);

/* The end of the scale on which all rates and whiskers of the rows that were set fit; those of
 * recovered fish may be beyond it, and those of untried crosses. */
double pairs_scale(const struct pair_row *rows, size_t count);

#endif
