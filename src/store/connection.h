/* The ledger file from outside and SQLite connections to it: this is the only place that opens one.
 */
#ifndef STORE_CONNECTION_H
#define STORE_CONNECTION_H

#include "senbetsu/base/err.h"

#include <sqlite3.h>
#include <stdbool.h>

/* Says in one sentence what `code` means for the ledger at `path`; `detail` is SQLite's own message
 * and is shown only where no sentence of ours could help. Returns false. */
bool sqlite_error(const char *path, int code, const char *detail, struct err *err);

/* The same for an errno; `done` is what could not be done: "read", "reached". */
bool file_error(const char *path, int cause, const char *done, struct err *err);

/* A check of a file from outside: nothing is locked, made or changed. */
enum file_kind {
    FILE_ABSENT,
    FILE_EMPTY, /* a file of no bytes */
    FILE_LEDGER,
    FILE_SHUT, /* a ledger that may be read and not written: it cannot be, or its folder cannot */
};

/* Fails with a sentence where the file is no ledger, is newer than layout `newest`, or cannot be
 * read and written by this user, or its folder cannot. */
bool file_check(const char *path, int newest, enum file_kind *ret, struct err *err);

/* Says why a ledger that is FILE_SHUT cannot be written. Returns false. */
bool file_refuse_shut(const char *path, struct err *err);

/* Only the file's first bytes: is it a ledger of a layout up to `newest`? */
bool file_check_header(const char *path, int newest, struct err *err);

/* "The ledger has layout 7, this program reads layouts up to 1; …" Returns false. */
bool file_check_newer(const char *path, int version, int newest, struct err *err);

/* Is there a file "PATHsuffix" with something in it? */
bool file_has_beside(const char *path, const char *suffix);

/* A hardened connection; `create` makes the file where there is none. */
bool connection_open(const char *path, bool create, sqlite3 **ret, struct err *err);

/* Lets a connection wait while another program writes, some seconds in all (waiting.c). */
void connection_wait_for_others(sqlite3 *db);

/* Waits a little after so many tries; false where it has been long enough. */
bool connection_wait(int tries);

/* A connection to a ledger that is FILE_SHUT. Where nobody has it open and nothing is left of an
 * unfinished session it is read as it lies, without locks (`*ret_as_it_lies`): somebody who may
 * write it could begin to do so meanwhile. */
bool connection_open_shut(const char *path, sqlite3 **ret, bool *ret_as_it_lies, struct err *err);

/* Closes it; `aborted` leaves the file and what lies beside it as they are. */
void connection_close(sqlite3 *db, const char *path, bool aborted);

/* Runs statements that give no rows that matter. */
bool connection_run(sqlite3 *db, const char *path, const char *sql, struct err *err);

/* The one number that a pragma gives. */
bool connection_number(sqlite3 *db, const char *path, const char *sql, int *ret, struct err *err);

/* With what code the disk refused a read since this was asked last, SQLITE_OK where it did not:
 * SQLite's own checks tell of such a page as they do of a damaged one. */
int connection_refused(sqlite3 *db);

/* Is the file sound? `pragma` is quick_check or integrity_check. */
bool connection_check(sqlite3 *db, const char *path, const char *pragma, struct err *err);

/* WAL where the file system can do it, else a rollback journal; synchronous EXTRA in both. */
bool connection_journal(sqlite3 *db, const char *path, struct err *err);

bool connection_in_wal(sqlite3 *db, const char *path, bool *ret, struct err *err);

/* Empties the WAL into the file. */
bool connection_checkpoint(sqlite3 *db, const char *path, struct err *err);

#endif
