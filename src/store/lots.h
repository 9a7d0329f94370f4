/* Lots: fish kept together in one pond. */
#ifndef STORE_LOTS_H
#define STORE_LOTS_H

#include "private.h"

/* Adds a lot of one spawning. Inside a transaction only. */
bool lot_add(struct ledger *ledger, int64_t spawning, const char *code, bool own, int64_t *ret_id,
             struct err *err);

/* The lot of these spawnings (one, or several separated by ';') by its code ("" = the own one of
 * the spawning). Finds it or adds it; fails (ERR_INPUT) where the mixed lot of this name is one of
 * other spawnings. Inside a transaction only. */
bool lot_find_or_add(struct ledger *ledger, const char *spawnings, const char *code,
                     int64_t *ret_id, struct err *err);

/* Adds the codes of the spawnings whose fish are in a lot to `list` (CODES_SIZE), separated by ';'
 * and each once. ERR_INPUT where there are too many. */
bool lot_add_sources(struct ledger *ledger, int64_t lot, char *list, struct err *err);

#endif
