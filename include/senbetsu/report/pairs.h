/* All pairs of the ledger and the crosses that could be tried, with what to expect of them:
 * docs/pairs.md. */
#ifndef SENBETSU_REPORT_PAIRS_H
#define SENBETSU_REPORT_PAIRS_H

#include "senbetsu/print/pairs_table.h"
#include "senbetsu/report/crosses.h"
#include "senbetsu/report/parents_fit.h"

struct pairs_made {
    struct pairs_table table;
    struct parents_fit fit; /* the rows' texts belong to this … */
    struct pedigree pedigree;
    struct spawning *spawnings; /* … these, … */
    size_t spawning_count;
    struct pair_row *rows;
    char **sirings; /* … and these */
    size_t siring_count;
};

/* `stage` and `variety` as parents_fit_make takes them. A pair's variety is that of its latest
 * spawning. An untried cross is one of available parents (crosses.h) that both are of a variety, or
 * have been set for it. `fry` 0 = tosai are not asked for. The chances to be among the best are
 * drawn with the same seed each time. Must not be moved: parts of it point at one another. */
bool pairs_make(struct ledger *ledger, int stage, const char *variety, int64_t fry,
                struct pairs_made *ret, struct err *err);
void pairs_done(struct pairs_made *made);

#endif
