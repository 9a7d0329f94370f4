/* Keep rates as CSV and as a table with bars; the season book is made of the same rows, and screens
 * use the same words (docs/rates.md). */
#ifndef SENBETSU_PRINT_RATES_H
#define SENBETSU_PRINT_RATES_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/rates.h"

/* A rate in words, the same on paper and on screen. */
enum { RATE_TEXT_SIZE = 64, RATE_WARNINGS_MOST = 6, RATE_WARNING_SIZE = 160 };

/* "first", "first-harvest" */
const char *rate_stages(const struct rate_row *row, char ret[RATE_TEXT_SIZE]);

/* Per cent: one decimal, for small shares two or four. */
const char *rate_percent(double share, char ret[RATE_TEXT_SIZE]);

/* "30.2 to 34.4", or "-" where there is none. */
const char *rate_interval_text(const struct rate_row *row, char ret[RATE_TEXT_SIZE]);

/* What is doubtful about it, a sentence each; returns how many. */
int rate_warnings(const struct rate_row *row, char ret[RATE_WARNINGS_MOST][RATE_WARNING_SIZE]);

/* by,key,season,stage,in,kept,rate,low,high,flag,spawning,dead,survival,typical */
void rates_csv(enum rates_by by, const struct rate_row *rows, size_t count, struct text *out);

/* One row of it. */
void rates_csv_row(enum rates_by by, const struct rate_row *row, struct text *out);

/* The heading of the columns of rates_add_row. */
extern const char rates_columns[];

/* A rate with its interval and bar, then what is known of survival, then its warnings. */
void rates_add_row(struct page *page, const struct rate_row *row);

/* Rows of the same key stand together. */
void rates_print(enum rates_by by, const struct rate_row *rows, size_t count,
                 struct page_setup setup, struct text *out);

#endif
