/* Transactions: one BEGIN IMMEDIATE … COMMIT around whatever is written together. They nest, so
 * that a writing function can be called by itself or inside a larger change; only the outermost one
 * is SQLite's. Ids are given here, from the number that the station gave last: it is read and
 * written once a transaction, for an import takes thousands.
 *
 * Reading needs a transaction as well: SQLite gives every statement its own view of the ledger, and
 * a report asks many. Writing upon what such a transaction has seen would fail as soon as somebody
 * else has written since, so a writer leaves it first. */
#include "query.h"
#include "strokes.h"

#include <assert.h>

static bool run(struct ledger *ledger, enum sql sql, struct err *err)
{
    struct query query = query_begin(ledger, sql);
    return query_run(&query, err);
}

/* No file is touched before the first read, so there is nothing that could fail. */
static void begin_reading(struct ledger *ledger)
{
    if (ledger->reading > 0 && ledger->depth == 0 && sqlite3_get_autocommit(ledger->db))
        run(ledger, SQL_BEGIN_READING, NULL);
}

static void end_reading(struct ledger *ledger)
{
    if (ledger->depth == 0 && !sqlite3_get_autocommit(ledger->db))
        run(ledger, SQL_COMMIT, NULL);
}

void ledger_read_begin(struct ledger *ledger)
{
    ledger->reading++;
    begin_reading(ledger);
}

void ledger_read_end(struct ledger *ledger)
{
    assert(ledger->reading > 0);
    if (--ledger->reading == 0)
        end_reading(ledger);
}

static void settle(struct ledger *ledger)
{
    ledger->depth = 0;
    ledger->failed = false;
    ledger->last_id = 0;
    begin_reading(ledger);
}

bool transaction_begin(struct ledger *ledger, struct err *err)
{
    if (ledger->depth == 0) {
        end_reading(ledger);
        if (!run(ledger, SQL_BEGIN, err)) {
            begin_reading(ledger);
            return false;
        }
        ledger->begun_ms = clock_now(&ledger->clock);
    }
    ledger->depth++;
    return true;
}

static bool save_last_id(struct ledger *ledger, struct err *err)
{
    if (ledger->last_id == 0)
        return true;
    struct query query = query_with(ledger, SQL_LAST_ID_SAVE, ledger->last_id);
    return query_run(&query, err);
}

bool transaction_commit(struct ledger *ledger, struct err *err)
{
    if (ledger->depth > 1) {
        ledger->depth--;
        return true;
    }
    if (ledger->failed)
        err_set(err, ERR_LEDGER, "Nothing was saved: part of the change failed.");
    else if (save_last_id(ledger, err) && run(ledger, SQL_COMMIT, err)) {
        settle(ledger);
        return true;
    }
    transaction_rollback(ledger);
    return false;
}

void transaction_rollback(struct ledger *ledger)
{
    if (ledger->depth > 0)
        item_codes_forget(ledger);
    /* SQLite may have rolled back by itself, for want of room for example. */
    if (!sqlite3_get_autocommit(ledger->db))
        run(ledger, SQL_ROLLBACK, NULL);
    settle(ledger);
}

bool transaction_end(struct ledger *ledger, bool written, struct err *err)
{
    if (written)
        return transaction_commit(ledger, err);
    if (ledger->depth > 1) {
        ledger->depth--;
        ledger->failed = true;
    } else {
        transaction_rollback(ledger);
    }
    return false;
}

bool new_id(struct ledger *ledger, int64_t *ret_id, struct err *err)
{
    struct query query;
    if (ledger->last_id == 0) {
        query = query_begin(ledger, SQL_LAST_ID);
        if (!query_single(&query, &ledger->last_id, err))
            return false;
    }
    *ret_id = ++ledger->last_id;
    return true;
}
