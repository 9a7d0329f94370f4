/* The season on paper: every spawning with its parents and its fish from eggs to kept tosai. */
#ifndef SENBETSU_PRINT_SEASON_BOOK_H
#define SENBETSU_PRINT_SEASON_BOOK_H

#include "senbetsu/print/lot_news.h"
#include "senbetsu/print/rates_table.h"
#include "senbetsu/report/seasons.h"

void season_book_print(const struct season_book *book, struct page_setup setup, struct text *out);

/* The warning where more are said to have hatched than there were eggs. */
extern const char hatched_too_many[];

/* The columns of rates_csv: the spawnings, then the mixed lots, then the season. */
void season_book_csv(const struct season_book *book, struct text *out);

#endif
