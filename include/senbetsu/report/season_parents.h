/* How many parents a season's fish come from. */
#ifndef SENBETSU_REPORT_SEASON_PARENTS_H
#define SENBETSU_REPORT_SEASON_PARENTS_H

#include "senbetsu/print/season_book.h"

/* Of one spawning. */
struct parentage {
    const char *dam;   /* "" = unknown */
    const char *sires; /* separated by ';'; "" = unknown */
    int64_t kept;      /* fish, NOT_COUNTED */
};

/* Each of several sires gets an equal share of the fish. Shares are told where the fish of every
 * spawning whose dam and sires are named have been counted. */
struct season_parents season_parents_sum(const struct parentage *spawnings, size_t count);

#endif
