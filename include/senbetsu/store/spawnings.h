/* Spawnings: one dam, one or more sires, one date. Each begins as one lot that carries its code. */
#ifndef SENBETSU_STORE_SPAWNINGS_H
#define SENBETSU_STORE_SPAWNINGS_H

#include "senbetsu/core/spawning.h"
#include "senbetsu/store/ledger.h"

/* Adds or changes the spawning of this code, as parent_save does, what is said and what was known
 * taken together by spawning_merge; a new one begins as a lot of its own. ERR_INPUT where
 * spawning_check refuses it, where dam or sires are not in the ledger, the dam is male or a sire
 * female. */
bool spawning_save(struct ledger *ledger, const struct spawning *spawning, int64_t judge,
                   const char *why, enum saved *ret_saved, struct err *err);

/* Makes the spawning of this code exactly what is said, its code (record_rename) included: what is
 * unknown in it is unknown from now on. */
bool spawning_change(struct ledger *ledger, const char *code, const struct spawning *spawning,
                     int64_t judge, const char *why, enum saved *ret_saved, struct err *err);
bool spawning_get(struct ledger *ledger, const char *code, struct spawning *ret, struct err *err);

/* Latest season first, then by date and code. */
bool spawning_list(struct ledger *ledger, struct spawning **ret, size_t *ret_count,
                   struct err *err);

#endif
