/* What the files of this layer share and nobody else sees: the open ledger itself. */
#ifndef STORE_INSIDE_H
#define STORE_INSIDE_H

#include "migrations.h"
#include "senbetsu/store/ledger.h"
#include "statements.h"

#include <sqlite3.h>

/* Marks a file as a ledger, in the place that SQLite's header has for it. Drawn at random once. */
enum { LEDGER_APPLICATION_ID = 0x3e50ab1f };

struct ledger {
    sqlite3 *db;
    char *path;
    struct clock clock;
    int depth;        /* of nested transactions: only the outermost is SQLite's */
    int64_t begun_ms; /* when the outermost was begun: one instant for what is written together */
    bool doomed;      /* a write inside the open transaction failed: it can only be rolled back */
    sqlite3_stmt *statements[SQL_COUNT]; /* prepared when first needed */
};

/* ledger_open with the steps of another program version: tests play newer and older with it. */
bool ledger_open_at(const struct ledger_setup *setup, const struct migration *steps, int count,
                    struct ledger **ret, bool *ret_new, struct err *err);

/* The frame of every writing function: `return write_end(ledger, write_what(…), err)` after
 * `write_begin`. Joins a transaction that is already open. */
bool write_begin(struct ledger *ledger, struct err *err);
bool write_end(struct ledger *ledger, bool written, struct err *err);

/* An id that no other station can produce. Inside a transaction only. */
bool new_id(struct ledger *ledger, int64_t *ret_id, struct err *err);

#endif
