/* Spawnings: one dam, one or more sires, one date. Each begins as one lot that carries its code. */
#ifndef SENBETSU_STORE_SPAWNINGS_H
#define SENBETSU_STORE_SPAWNINGS_H

#include "senbetsu/core/code.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/store/ledger.h"

enum { SIRES_SIZE = 8 * CODE_SIZE, UNKNOWN_COUNT = -1 };

struct spawning {
    int64_t id;
    char code[CODE_SIZE];
    int season;    /* calendar year of the spawning */
    char date[11]; /* "" = unknown */
    char variety[CODE_SIZE];
    char dam[CODE_SIZE];    /* "" = unknown */
    char sires[SIRES_SIZE]; /* codes separated by ';', in order of code; "" = unknown */
    enum siring siring;
    int64_t eggs, hatched; /* UNKNOWN_COUNT */
    char note[NOTE_SIZE];
};

/* Adds or changes, with amendments as parent_save has them; adds the spawning's own lot. The dam
 * and sires must be in the ledger, the dam not male, no sire female; siring single has at most one
 * sire; a date's year must be the season. */
bool spawning_save(struct ledger *ledger, const struct spawning *spawning, int64_t judge,
                   const char *why, enum saved *ret_saved, struct err *err);
bool spawning_get(struct ledger *ledger, const char *code, struct spawning *ret, struct err *err);

/* Latest season first, then by date and code. */
bool spawning_list(struct ledger *ledger, struct spawning **ret, size_t *ret_count,
                   struct err *err);

#endif
