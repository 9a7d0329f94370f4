/* Lots: fish kept together in one pond. */
#ifndef STORE_LOTS_H
#define STORE_LOTS_H

#include "inside.h"

/* The lot of a spawning by its code ("" = the one the spawning began as); `*ret_id` 0 = none. */
bool lot_find(struct ledger *ledger, int64_t spawning, const char *code, int64_t *ret_id,
              struct err *err);

/* Adds a lot of one spawning. Inside a transaction only. */
bool lot_add(struct ledger *ledger, int64_t spawning, const char *code, bool own, int64_t *ret_id,
             struct err *err);

/* The lot of these spawnings as lot_find_or_add takes them; `*ret_id` 0 = none. */
bool lot_look_up(struct ledger *ledger, const char *spawnings, const char *code, int64_t *ret_id,
                 struct err *err);

/* The lot of these spawnings (one, or several separated by ';') by its code ("" = the own one of
 * the spawning). Finds it or adds it. Inside a transaction only. */
bool lot_find_or_add(struct ledger *ledger, const char *spawnings, const char *code,
                     int64_t *ret_id, struct err *err);

/* Adds the codes of the spawnings whose fish are in a lot to `list` (SIRES_SIZE), separated by ';'
 * and each once. ERR_INPUT where there are too many. */
bool lot_add_sources(struct ledger *ledger, int64_t lot, char *list, struct err *err);

/* The lot of this name in which fish of several spawnings are kept together; `spawnings` is their
 * codes, separated by ';'. Finds it or adds it; fails (ERR_INPUT) where it is one of other
 * spawnings. Inside a transaction only. */
bool lot_mixed(struct ledger *ledger, const char *spawnings, const char *code, int64_t *ret_id,
               struct err *err);

#endif
