/* How many parents a season's fish come from. */
#ifndef SENBETSU_REPORT_SEASON_PARENTS_H
#define SENBETSU_REPORT_SEASON_PARENTS_H
#include "senbetsu/core/count.h"

/* The parents of the season's spawnings: docs/kinship.md. */
struct season_parents {
    size_t dams, sires;       /* 0 = no spawning has both named */
    size_t left_out;          /* spawnings whose dam or sires are not named */
    double effective;         /* number of parents */
    double effective_by_fish; /* by what each spawning kept; 0 = that is not known */
};

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
