/* Keep rates from what the ledger knows of its rounds: docs/rates.md. */
#ifndef SENBETSU_REPORT_RATES_H
#define SENBETSU_REPORT_RATES_H

#include "senbetsu/report/rate_keys.h"
#include "senbetsu/store/round_counts.h"

struct rates {
    struct rate_row *rows;
    size_t count;
    size_t lot_count;
    struct lot_origin *lots; /* the rows' texts belong to these … */
    struct rate_keys keys;   /* … and these */
};

/* By key; of each its stages in order and, where it has more than one after the black fry, their
 * rates chained. `stage` -1 = all, else that one alone. A round counts once both its numbers are
 * known. A mixed lot counts for lot, season and variety, never for a spawning or a pair. */
bool rates_make(struct ledger *ledger, enum rates_by by, int stage, struct rates *ret,
                struct err *err);
void rates_done(struct rates *rates);

#endif
