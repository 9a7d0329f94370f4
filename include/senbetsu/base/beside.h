/* The files that belong to a ledger and lie beside it: what each is called stands here and nowhere
 * else. Every name is the ledger's own with something behind it. */
#ifndef SENBETSU_BASE_BESIDE_H
#define SENBETSU_BASE_BESIDE_H

#include "senbetsu/base/text.h"

#include <stdbool.h>

enum beside {
    BESIDE_WAL,            /* what SQLite keeps while a ledger is open, and after a crash */
    BESIDE_SHM,            /* which says where what stands in it */
    BESIDE_JOURNAL,        /* the older kind of journal */
    BESIDE_ACKNOWLEDGED,   /* the last ids that were acknowledged */
    BESIDE_BEFORE_VERSION, /* + "3": a copy from before the upgrade to that layout */
    BESIDE_BEFORE_RESTORE, /* + "20260614-084105": the ledger that a restore replaced */
    BESIDE_BEFORE_JOIN,    /* + "20260614-084105": a copy from before a join */
    BESIDE_RESCUED,        /* + "20260614-084105": a copy of a ledger that was deleted while open */
    BESIDE_RESTORING,      /* + "20260614-084105": a checked copy about to take the ledger's name */
    BESIDE_COPIES,         /* + "/2026-06-14": the folder with the copies of each day */
    BESIDE_UNFINISHED,     /* + "Xk3f9A": what is being written, or was broken off */
    BESIDE_KINDS
};

/* Adds "PATH-wal", or "PATH.before-v" without what follows. */
void beside_add(struct text *out, const char *path, enum beside kind);

/* Is `path` named like a file beside a ledger? Then the length of that ledger's own path is given,
 * and which kind it is. */
bool beside_split(const char *path, size_t *ret_length, enum beside *ret_kind);

#endif
