/* What opening a ledger must know of restoring one. */
#ifndef STORE_RESTORE_H
#define STORE_RESTORE_H

#include "senbetsu/base/err.h"

#include <stdbool.h>

/* Finishes a restore that was broken off, before anybody looks at the ledger. ERR_BUSY while
 * somebody is restoring. */
bool restore_resume(const char *path, struct err *err);

/* No ledger lies at `path`: may a new one begin there? Not where one was set aside, or something of
 * one is left; the sentence says what lies there and what to do. */
bool restore_check_vacant(const char *path, struct err *err);

#endif
