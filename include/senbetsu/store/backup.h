/* Copies of the ledger and its health. */
#ifndef SENBETSU_STORE_BACKUP_H
#define SENBETSU_STORE_BACKUP_H

#include "senbetsu/store/ledger.h"

/* Writes a whole, checked copy to `path` (a temporary name beside it, fsync, rename). Refuses a
 * path that exists. */
bool ledger_backup(struct ledger *ledger, const char *path, struct err *err);

/* Puts a copy in a ledger's place: the copy is checked first; a ledger that stands there is kept as
 * "PATH.before-restore-YYYYMMDD-HHMMSS". Its name is written to `ret_kept` (size bytes, "" where
 * there was none). */
bool ledger_restore(const char *copy, const char *path, const struct clock *clock, char *ret_kept,
                    size_t size, struct err *err);

/* Looks through the whole ledger: SQLite's own checks, foreign keys, and whether everything derived
 * agrees with what was recorded. Each finding is one sentence handed to `found`. Returns false only
 * if the check itself could not run. */
bool ledger_check(struct ledger *ledger, void (*found)(void *context, const char *sentence),
                  void *context, int *ret_findings, struct err *err);

#endif
