/* A check of a file from outside, before SQLite touches it: nothing is locked, made or changed. */
#ifndef STORE_FILE_CHECK_H
#define STORE_FILE_CHECK_H

#include "senbetsu/base/err.h"

#include <stdbool.h>

enum file_kind {
    FILE_ABSENT,
    FILE_EMPTY, /* a file of no bytes */
    FILE_LEDGER,
};

/* Fails with a sentence where the file is no ledger, is newer than layout `newest`, or cannot be
 * read and written by this user, or its folder cannot. */
bool file_check(const char *path, int newest, enum file_kind *ret, struct err *err);

/* Only the file's first bytes: is it a ledger of a layout up to `newest`? */
bool file_check_header(const char *path, int newest, struct err *err);

/* "The ledger PATH has layout 7 and this program knows layouts up to 1; …" Returns false. */
bool file_check_newer(const char *path, int version, int newest, struct err *err);

/* Is there a file "PATHsuffix" with something in it? */
bool file_has_beside(const char *path, const char *suffix);

#endif
