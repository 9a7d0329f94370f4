/* Keep rates as CSV and as a table with bars. */
#ifndef SENBETSU_PRINT_RATES_TABLE_H
#define SENBETSU_PRINT_RATES_TABLE_H

#include "senbetsu/core/terms.h"
#include "senbetsu/core/usual.h"
#include "senbetsu/print/page.h"
#include "senbetsu/stats/proportion.h"
#include <stdint.h>

/* What fish are counted together. */
enum rates_by { BY_LOT, BY_SPAWNING, BY_PAIR, BY_SEASON, BY_VARIETY, BY_COUNT };
extern const struct term rates_by_terms[BY_COUNT];

/* The rate of one cull, or chained over several. */
struct rate_row {
    const char *key;          /* whose: a lot, a spawning, DAM+SIRE;SIRE, a year, a variety */
    const char *spawnings;    /* of a lot: its spawning, or several separated by ';'; else "" */
    int season;               /* 0 = of several */
    enum stage first, last;   /* the same but for a chained rate */
    int64_t in, kept;         /* what went into the first, what the last one kept */
    double rate;              /* over 1 where fish were found again */
    struct interval interval; /* 95 % */
    double in_cv, kept_cv;    /* relative standard errors of the two numbers, where known … */
    double covariance;        /* … and their covariance (stats/rate.h) */
    int64_t done, whole; /* of its rounds at work so many fish of all are judged; 0 = of none */
    int64_t dead;        /* found dead in it and since the stage before; -1 = not known */
    bool has_rate, has_interval;
    bool recovered;     /* in one of its rounds more were kept than went in, or more went in than
                           the stage before kept */
    bool estimated;     /* one of its numbers is an estimate … */
    bool error_unknown; /* … of which nobody knows the error */
    bool so_far;        /* in one of its rounds nobody said that no more fish come */
    bool uneven;        /* chained, and not every spawning went through all the stages */
    /* Alive at its beginning, of the fish that the stage before kept (`after`, STAGE_COUNT = of the
     * fry that hatched). Negative = not known. */
    double survival;
    enum stage after;
    const struct typical *typical; /* NULL = nothing is known */
};

/* Is all of its interval, or the rate where it has none, outside what is typical, and all culls
 * done? A reason to check the standard or the count, no more. */
bool rate_row_untypical(const struct rate_row *row);

/* A rate in words, the same on paper and on screen. */
enum { RATE_TEXT_SIZE = 64, RATE_WARNINGS_MOST = 5, RATE_WARNING_SIZE = 160 };

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
