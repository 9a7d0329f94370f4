/* A copy of a ledger as it was at one moment: whole, checked and on the disk before it has its
 * name; one file without a WAL, with the rights of the ledger, and at home nowhere: opened, it
 * becomes a station of its own (docs/decisions/stations.md). Nobody who works on the ledger waits
 * for it. */
#ifndef STORE_COPY_H
#define STORE_COPY_H

#include "private.h"
#include "senbetsu/base/beside.h"
#include "senbetsu/base/new_file.h"

/* The whole copy at once, under a name that nobody has yet (else ERR_EXISTS). A sentence about the
 * copy's disk names the copy, one about the ledger the ledger. Outside transactions only. */
bool copy_ledger(struct ledger *ledger, const char *to, struct err *err);

/* The same beside the ledger: "PATH" + the kind's mark + `rest`, or with a count where that is
 * taken. The name is written to `ret_path` (size bytes), which may be NULL. */
bool copy_beside(struct ledger *ledger, enum beside kind, const char *rest, char *ret_path,
                 size_t size, struct err *err);

/* Makes a ledger out of a copied file: one that has no WAL and lies nowhere. Sentences speak of
 * `called`. */
bool copy_file_settle(const char *path, const char *called, struct err *err);

/* Looks through all of it. */
bool copy_file_check(const char *path, const char *called, bool *ret_sound, struct err *err);

/* A copy in slices, for when somebody may be typing: begun, taken forward until all pages are
 * there, closed, finished. End with copy_done whatever happens. */
struct copy {
    const char *ledger; /* path */
    struct new_file file;
    sqlite3 *to;
    sqlite3_backup *pages;
    int version, page_count; /* what the copy must have */
};

/* `from` has a read transaction open until copy_close. */
bool copy_begin(struct copy *copy, sqlite3 *from, const char *ledger, const char *to,
                struct err *err);
/* `pages` more of them, or all with -1; says whether that was all. */
bool copy_step(struct copy *copy, int pages, bool *ret_all, struct err *err);
/* From here on nothing of the ledger is needed, and the copy may be finished in another process. */
void copy_close(struct copy *copy);
/* Settles and checks it; it keeps its temporary name (`file.temporary`). */
bool copy_whole(struct copy *copy, struct err *err);
/* The same, and gives it its name; `replace` takes that from a copy that has it. */
bool copy_finish(struct copy *copy, bool replace, struct err *err);
void copy_done(struct copy *copy);

/* "20260614-084105": an instant in a file's name, in local time. */
enum { STAMP_SIZE = 16 };
void stamp_now(const struct clock *clock, char ret_stamp[STAMP_SIZE]);

#endif
