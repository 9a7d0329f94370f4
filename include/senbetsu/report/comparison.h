/* Two pairs side by side, from what the ledger knows: docs/compare.md. */
#ifndef SENBETSU_REPORT_COMPARISON_H
#define SENBETSU_REPORT_COMPARISON_H

#include "senbetsu/core/terms.h"
#include "senbetsu/report/families.h"
#include "senbetsu/stats/two_by_two.h"

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
    struct compare_row *rows;
    size_t count;
    struct compare_row all; /* of the rows that can be compared */
    struct pair_overdispersion overdispersions[2];
    struct compare_left_out *left_out;
    size_t left_out_count;
    bool estimated;           /* one of the numbers is an estimate */
    struct families families; /* the texts belong to these */
};

/* `a` and `b` as pair_find takes them; not the same. `stage` -1 = from the earliest cull to the
 * latest in which both pairs had fish of the same seasons, black fry only where there is no other.
 * `of` NULL = all their spawnings.
 */
bool compare_make(struct ledger *ledger, const char *a, const char *b, int stage,
                  const struct selection *of, struct comparison *ret, struct err *err);
void compare_done(struct comparison *comparison);

#endif
