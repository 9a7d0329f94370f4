/* The season book: every spawning with its parents and its fish from eggs to kept tosai, on paper;
 * in CSV the season's keep rates. */
#ifndef SENBETSU_PRINT_SEASON_H
#define SENBETSU_PRINT_SEASON_H

#include "senbetsu/print/counts.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/report/season.h"

void season_book_print(const struct season_book *book, struct page_setup setup, struct text *out);

/* The warning where more are said to have hatched than there were eggs. */
extern const char hatched_too_many[];

/* The columns of rates_csv: the spawnings, then the mixed lots, then the season. */
void season_book_csv(const struct season_book *book, struct text *out);

#endif
