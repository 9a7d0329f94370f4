/* Which crosses could be set, and what can be expected of each. */
#ifndef SENBETSU_REPORT_PAIRS_H
#define SENBETSU_REPORT_PAIRS_H

#include "senbetsu/report/crosses.h"
#include "senbetsu/report/parents_fit.h"
#include "senbetsu/stats/glmm/predictions.h"
#include "senbetsu/store/spawnings.h"

struct pair_row {
    const char *dam, *sires; /* sires of a group separated by ';' */
    const char *siring;      /* "single", several separated by ';', "" = untried */
    const char *variety;     /* "" = unknown */
    int seasons,
        spawnings;        /* that were culled; 0 also for a pair that was set and not culled yet */
    int of_dam, of_sires; /* culled spawnings that either had with anybody */
    struct cull cull;     /* where spawnings > 0 */
    double rate;          /* over 1 where fish were found again */
    struct interval interval; /* 95 %, of the fish as they were counted */
    struct parent_prediction prediction;
    double inbreeding;        /* of the young; not known where there are several sires */
    bool available;           /* the dam and all sires: parents_available */
    const struct parent *out; /* the first of them that is resting, sold or dead; NULL = none */
    double later;             /* of the fish kept, the share that is left after the harvest cull */
    bool untried, has_rate, has_interval, recovered, has_prediction, has_inbreeding;
};

struct pairs_table {
    enum stage first, last; /* from what went into the one to what the other kept */
    const char *variety;    /* "" = all */
    struct pair_row *rows;  /* best first within a variety, varieties by name */
    size_t count;
    struct fit_notes notes;
    const char *no_model;   /* why nothing is expected; "" */
    int64_t fry;            /* that go into the cull; 0 = not asked */
    struct parents_fit fit; /* the rows' texts belong to this … */
    struct pedigree pedigree;
    struct spawning *spawnings; /* … these, … */
    size_t spawning_count;
    struct selection of; /* … as they were selected … */
    char **sirings;      /* … and these: one for each row, in no order */
};

/* `stage` and `of` as parents_fit_make takes them; of one season or spawning there are no untried
 * crosses. A pair's variety is that of its latest
 * spawning. An untried cross is one of available parents (crosses_make) that both are of a variety,
 * or have been set for it. A pair of which a parent is out is listed for what it was, and takes no
 * chance to be among the best from another. `fry` 0 = tosai are not asked for. `watch` (may be
 * NULL) is told how far it is; where it gives up, ERR_ABSENT. The chances to be among the best are
 * drawn with the same seed each time. Must not be moved: parts of it point at one another. */
bool pairs_make(struct ledger *ledger, int stage, const struct selection *of, int64_t fry,
                const struct watch *watch, struct pairs_table *ret, struct err *err);
void pairs_done(struct pairs_table *table);

#endif
