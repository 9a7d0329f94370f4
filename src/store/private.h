/* What the files of this layer share and nobody else sees: the open ledger itself. */
#ifndef STORE_PRIVATE_H
#define STORE_PRIVATE_H

#include "migrations.h"
#include "senbetsu/store/ledger.h"
#include "statements.h"

#include <signal.h>
#include <sqlite3.h>
#include <sys/stat.h>

/* Marks a file as a ledger, in the place that SQLite's header has for it. Drawn at random once. */
enum { LEDGER_APPLICATION_ID = 0x3e50ab1f };

struct ledger {
    sqlite3 *db;
    char *path;
    int64_t device, inode; /* of its file; 0 = a copy of our own, which nobody else knows */
    int acknowledged;      /* the file of ids that were acknowledged; -1 = none */
    char *rescued;         /* the copy that was made when it was deleted; NULL = none */
    struct clock clock;
    int depth;        /* of nested transactions: only the outermost is SQLite's */
    int reading;      /* ledger_read_begin without its end yet */
    int64_t begun_ms; /* when the outermost was begun: one instant for what is written together */
    bool failed;      /* a write inside the open transaction failed: it can only be rolled back */
    int64_t commits;  /* that this program made */
    int64_t last_id;  /* given in the open transaction, 0 = none yet */
    bool in_doubt;    /* a commit failed in such a way that it may count all the same */
    int64_t doubt_id; /* the last one given in it, 0 = none */
    struct item_codes *codes; /* of the versions met so far (stroke_row.c) */
    size_t code_count, code_capacity;
    sqlite3_stmt *statements[SQL_COUNT]; /* prepared when first needed */
    bool as_it_lies;                     /* read without locks, for it cannot be written here */
    struct stat opened;                  /* then: what the file was like */
    bool holds_stops; /* signals that would stop the program wait until the transaction is over */
    sigset_t signals_before;
    char **notices;
    size_t notice_count, notice_capacity;
};

/* ledger_open with the steps of another program version: tests play newer and older with it. */
bool ledger_open_at(const struct ledger_setup *setup, const struct migration *steps, int count,
                    struct ledger **ret, bool *ret_new, struct err *err);

/* Opens a copy that is read and thrown away, and brings it to the layout of these steps. It becomes
 * no station. Sentences speak of the ledger `called`. */
bool ledger_open_copy(const char *copy, const char *called, const struct clock *clock,
                      const struct migration *steps, int count, int *ret_version,
                      struct ledger **ret, struct err *err);

struct join;
/* ledger_join with the steps of another program version. */
bool ledger_join_at(struct ledger *ledger, const char *path, bool preview,
                    const struct migration *steps, int count, struct join *ret, struct err *err);

/* The frame of every writing function: `return transaction_begin(ledger, err) &&
 * transaction_end(ledger, save(…), err)` commits where `written`, else rolls back. Joins a
 * transaction that is already open. */
bool transaction_end(struct ledger *ledger, bool written, struct err *err);

struct place;
/* place_save without its own transaction; NULL writes nothing. Inside a transaction only. */
bool place_write(struct ledger *ledger, const struct place *place, struct err *err);

/* Sees whether the file still lies where its station was last seen; if not, or if there is no
 * station yet, a new one begins, with `setup`'s seed and name (docs/decisions/stations.md). */
bool station_settle(struct ledger *ledger, const struct ledger_setup *setup, struct err *err);

/* Frees what ledger_notice added. */
void notices_done(struct ledger *ledger);

/* Remembers which file the path leads to; in_place: does it still? in_place_fail says where the
 * work is, and returns false. */
bool in_place_begin(struct ledger *ledger, struct err *err);
bool in_place(const struct ledger *ledger);
bool in_place_fail(const struct ledger *ledger, struct err *err);
bool in_place_deleted(const struct ledger *ledger); /* no name leads to it any more */

/* Opens the file of acknowledged ids, and notices what is missing of them; takes down another, 0 =
 * none; closes it. */
bool acknowledged_begin(struct ledger *ledger, struct err *err);
void acknowledged_note(struct ledger *ledger, int64_t id);
void acknowledged_end(struct ledger *ledger);

/* An id that no other station can produce. Inside a transaction only. */
bool new_id(struct ledger *ledger, int64_t *ret_id, struct err *err);

/* The id of a record of the office, which every station gives it that enters the same: `kind` is
 * its table, `what` the code or what else makes it the one it is. Inside a transaction only. */
bool office_id(struct ledger *ledger, const char *kind, const char *what, int64_t *ret_id,
               struct err *err);

#endif
