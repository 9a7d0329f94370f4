/* A copy put in a ledger's place (docs/decisions/restore.md). */
#ifndef SENBETSU_STORE_RESTORE_H
#define SENBETSU_STORE_RESTORE_H

#include "senbetsu/store/ledger.h"

/* Puts a copy in a ledger's place: the copy is checked first; a ledger that stands there is kept as
 * "PATH.before-restore-YYYYMMDD-HHMMSS", with its journals. That name is written to `ret_kept`
 * (size bytes, "" where there was none). Where it fails the old ledger is as it was; who is killed
 * leaves either the old one with its journals or the new one. */
bool ledger_restore(const char *copy, const char *path, const struct clock *clock, char *ret_kept,
                    size_t size, struct err *err);

#endif
