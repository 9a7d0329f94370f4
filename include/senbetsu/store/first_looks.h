/* First looks at the lots of rounds: a key is a row, and rows are only ever added. */
#ifndef SENBETSU_STORE_FIRST_LOOKS_H
#define SENBETSU_STORE_FIRST_LOOKS_H

#include "senbetsu/core/first_look.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/ledger.h"

/* One transaction: the fish and the place (NULL leaves it). */
bool first_look_record(struct ledger *ledger, int64_t round_id, int64_t judge, bool good,
                       const struct place *place, struct err *err);

/* Takes back the last fish of this judge in the round, called on this machine and not yet taken
 * back; in one transaction with the place. ERR_ABSENT where there is none. */
bool first_look_undo(struct ledger *ledger, int64_t round_id, int64_t judge,
                     const struct place *place, struct err *err);

/* All fish looked at before a round, whoever called them, in the order in which they were. */
bool first_look_get(struct ledger *ledger, int64_t round_id, struct first_look *ret,
                    struct err *err);

#endif
