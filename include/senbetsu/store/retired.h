/* Records that should not be there: retired, and brought back. */
#ifndef SENBETSU_STORE_RETIRED_H
#define SENBETSU_STORE_RETIRED_H

#include "senbetsu/store/ledger.h"

enum record_kind {
    RECORD_JUDGE,
    RECORD_PARENT,
    RECORD_SPAWNING,
    RECORD_LOT,
    RECORD_ROUND,
    RECORD_BOWL,
    RECORD_KIND_COUNT
};

/* Takes a record, and all that is below it (lots of a spawning, rounds of a lot, bowls of a round),
 * out of every list, number and proposal. ERR_INPUT with a sentence where something else stands on
 * it: it names that. ERR_ABSENT where there is no such record, or it is retired already. */
bool record_retire(struct ledger *ledger, enum record_kind kind, int64_t id, int64_t judge,
                   const char *why, struct err *err);

/* The reverse, with all that was retired with it. ERR_INPUT where its name is taken meanwhile, or
 * what it belongs to is still retired. */
bool record_bring_back(struct ledger *ledger, enum record_kind kind, int64_t id, int64_t judge,
                       const char *why, struct err *err);

#endif
