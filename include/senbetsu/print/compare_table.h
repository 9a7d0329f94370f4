/* Two pairs of parents side by side, as CSV and in words: docs/compare.md. */
#ifndef SENBETSU_PRINT_COMPARE_TABLE_H
#define SENBETSU_PRINT_COMPARE_TABLE_H

#include "senbetsu/core/terms.h"
#include "senbetsu/print/page.h"
#include "senbetsu/stats/mantel_haenszel.h"

/* A season, or all of them together. What is not known stays empty. */
struct compare_row {
    int season; /* 0 = all */
    struct two_groups fish;
    bool recovered; /* more were kept than went in */
    struct estimate difference, odds_ratio;
    struct significance equal; /* is it chance? */
    struct significance alike; /* do the seasons agree? */
};

/* How the spawnings of one pair differ. */
struct pair_overdispersion {
    size_t spawnings;
    double lowest, highest; /* of their shares */
    struct significance overall, tarone;
    struct significance within; /* each season by itself */
    double beyond_chance;       /* in shares */
};

/* A spawning of one of the pairs that is in no row. */
struct compare_left_out {
    const char *spawning;
    int pair; /* 0 or 1 */
    int season;
    bool alone; /* the other pair has no such fish in its season; else it was not counted */
};

struct comparison {
    const char *pairs[2];
    const char *varieties[2]; /* "" = unknown */
    bool has_stages;
    enum stage first, last; /* kept at `last` of those that went into `first` */
    const struct compare_row *rows;
    size_t count;
    struct compare_row all; /* of the rows that can be compared */
    struct pair_overdispersion overdispersions[2];
    const struct compare_left_out *left_out;
    size_t left_out_count;
    bool estimated; /* one of the numbers is an estimate */
};

/* season,in_a,kept_a,in_b,kept_b,difference,low,high,odds_ratio,or_low,or_high,p_equal,p_seasons */
void compare_csv(const struct comparison *comparison, struct text *out);

void compare_print(const struct comparison *comparison, struct page_setup setup, struct text *out);

#endif
