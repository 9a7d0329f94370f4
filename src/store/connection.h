/* SQLite connections: this is the only place that opens one. */
#ifndef STORE_CONNECTION_H
#define STORE_CONNECTION_H

#include "senbetsu/base/err.h"

#include <sqlite3.h>
#include <stdbool.h>

/* A hardened connection; `create` makes the file where there is none. */
bool connection_open(const char *path, bool create, sqlite3 **ret, struct err *err);

/* Closes it; `aborted` leaves the file and what lies beside it as they are. */
void connection_close(sqlite3 *db, const char *path, bool aborted);

/* Runs statements that give no rows that matter. */
bool connection_run(sqlite3 *db, const char *path, const char *sql, struct err *err);

/* The one number that a pragma gives. */
bool connection_number(sqlite3 *db, const char *path, const char *sql, int *ret, struct err *err);

/* Is the file sound? `pragma` is quick_check or integrity_check. */
bool connection_check(sqlite3 *db, const char *path, const char *pragma, struct err *err);

/* WAL where the file system can do it, else a rollback journal; synchronous FULL in both. */
bool connection_journal(sqlite3 *db, const char *path, struct err *err);

/* Empties the WAL into the file. */
bool connection_checkpoint(sqlite3 *db, const char *path, struct err *err);

/* Makes a copied file whole: checks it, turns it into a single file without WAL, marks it as lying
 * nowhere (so that it becomes a station of its own), and brings it to the disk. */
bool connection_finish_copy(const char *path, struct err *err);

/* Copies the whole of `db` into a new file `to` and finishes that. `path` is the ledger's own, for
 * sentences. */
bool connection_copy(sqlite3 *db, const char *path, const char *to, struct err *err);

#endif
