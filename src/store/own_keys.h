/* Keys pressed in a round, of which each judge takes back his own. */
#ifndef STORE_OWN_KEYS_H
#define STORE_OWN_KEYS_H

#include "private.h"

/* The key of this judge in the round that is taken back next; `sql` finds it by round and judge.
 * ERR_ABSENT where there is none. */
bool last_own_key(struct ledger *ledger, enum sql sql, int64_t round_id, int64_t judge,
                  int64_t *ret_id, struct err *err);

#endif
