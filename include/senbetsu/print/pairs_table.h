/* Pairs over the seasons, and crosses that were not tried yet: docs/pairs.md. */
#ifndef SENBETSU_PRINT_PAIRS_TABLE_H
#define SENBETSU_PRINT_PAIRS_TABLE_H

#include "senbetsu/print/effects_table.h"
#include "senbetsu/stats/glmm/outlook.h"

struct pair_row {
    const char *dam, *sires; /* sires of a group separated by ';' */
    const char *siring;      /* "single", several separated by ';', "" = untried */
    const char *variety;     /* "" = unknown */
    int seasons,
        spawnings;        /* that were culled; 0 also for a pair that was set and not culled yet */
    int of_dam, of_sires; /* culled spawnings that either had with anybody */
    int64_t in, kept;     /* where spawnings > 0 */
    double rate;          /* over 1 where fish were found again */
    struct interval interval; /* 95 %, of the fish as they were counted */
    struct parent_outlook outlook;
    double inbreeding; /* of the young; not known where there are several sires */
    double later;      /* of the fish kept, the share that is left after the harvest cull */
    bool untried, has_rate, has_interval, recovered, has_outlook, has_inbreeding;
};

struct pairs_table {
    enum stage first, last;      /* from what went into the one to what the other kept */
    const char *variety;         /* "" = all */
    const struct pair_row *rows; /* best first within a variety, varieties by name */
    size_t count;
    struct fit_notes notes;
    const char *trouble; /* why nothing is expected; "" */
    int64_t fry;         /* that go into the cull; 0 = not asked */
};

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
