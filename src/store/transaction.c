/* Transactions: one BEGIN IMMEDIATE … COMMIT around whatever is written together. They nest, so
 * that a writing function can be called by itself or inside a larger change; only the outermost one
 * is SQLite's.
 *
 * Reading needs a transaction as well: SQLite gives every statement its own view of the ledger, and
 * a report asks many. Writing upon what such a transaction has seen would fail as soon as somebody
 * else has written since, so a writer leaves it first.
 *
 * A commit that the disk failed is in doubt: SQLite has rolled it back, but what was written of it
 * may be whole, and after a power cut it would be found and count. The next commit that succeeds
 * writes over it in the WAL, which settles it. A rollback journal may have been deleted before its
 * folder failed: there the serials tell. */
#include "connection.h"
#include "query.h"
#include "strokes.h"

#include <assert.h>
#include <signal.h>

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

/* Ctrl-Z in the middle of a transaction would stop the program with the ledger locked, and with it
 * everybody else: it waits until the transaction is over. So does what stops a program that writes
 * to its terminal from the background. */
static void hold_stops(struct ledger *ledger)
{
    sigset_t stops;
    sigemptyset(&stops);
    sigaddset(&stops, SIGTSTP);
    sigaddset(&stops, SIGTTOU);
    sigprocmask(SIG_BLOCK, &stops, &ledger->signals_before);
    ledger->holds_stops = true;
}

static void let_stops_in(struct ledger *ledger)
{
    if (ledger->holds_stops)
        sigprocmask(SIG_SETMASK, &ledger->signals_before, NULL);
    ledger->holds_stops = false;
}

static void leave(struct ledger *ledger)
{
    let_stops_in(ledger);
    ledger->depth = 0;
    ledger->failed = false;
    ledger->last_id = 0;
    begin_reading(ledger);
}

static bool begin(struct ledger *ledger, struct err *err)
{
    end_reading(ledger);
    hold_stops(ledger);
    if (!run(ledger, SQL_BEGIN, err)) {
        let_stops_in(ledger);
        begin_reading(ledger);
        return false;
    }
    ledger->begun_ms = clock_now(&ledger->clock);
    ledger->depth = 1;
    return true;
}

/* Is the change in doubt in the ledger? Inside a transaction, so that nobody else's is taken for
 * it. */
static bool look(struct ledger *ledger, bool *ret_recorded, struct err *err)
{
    bool wal;
    int64_t last = 0;
    struct query query = query_begin(ledger, SQL_LAST_ID);
    if (!query_single(&query, &last, err) ||
        !connection_in_wal(ledger->db, ledger->path, &wal, err))
        return false;
    *ret_recorded = !wal && ledger->doubt_id != 0 && last >= ledger->doubt_id;
    return true;
}

/* Whoever does not ask what became of a change in doubt hears of it where it matters. */
static bool check_doubt(struct ledger *ledger, struct err *err)
{
    bool recorded;
    if (!look(ledger, &recorded, err))
        return false;
    if (!recorded)
        return true;
    ledger->in_doubt = false;
    return err_set(err, ERR_UNCERTAIN,
                   "What was in doubt before is in the ledger after all; look at it first: %s.",
                   ledger->path);
}

bool transaction_begin(struct ledger *ledger, struct err *err)
{
    if (ledger->depth > 0) {
        ledger->depth++;
        return true;
    }
    if (!begin(ledger, err))
        return false;
    if (!ledger->in_doubt || check_doubt(ledger, err))
        return true;
    transaction_rollback(ledger);
    return false;
}

static bool save_last_id(struct ledger *ledger, struct err *err)
{
    if (ledger->last_id == 0)
        return true;
    struct query query = query_with(ledger, SQL_LAST_ID_SAVE, ledger->last_id);
    return query_run(&query, err);
}

static bool commit(struct ledger *ledger, struct err *err)
{
    struct err cause = {0};
    if (run(ledger, SQL_COMMIT, &cause)) {
        ledger->in_doubt = false;
        return true;
    }
    if (cause.code == ERR_IO || cause.code == ERR_FULL) {
        ledger->in_doubt = true;
        ledger->doubt_id = ledger->last_id;
    }
    if (cause.code == ERR_IO)
        return err_set(err, ERR_UNCERTAIN,
                       "The disk failed while saving, it may be recorded or not; look again: %s.",
                       ledger->path);
    return err_set(err, cause.code, "%s", cause.text);
}

bool transaction_commit(struct ledger *ledger, struct err *err)
{
    if (ledger->depth > 1) {
        ledger->depth--;
        return true;
    }
    bool gone = !in_place(ledger);
    if (ledger->failed)
        err_set(err, ERR_LEDGER, "Nothing was saved: part of the change failed.");
    else if (!gone && save_last_id(ledger, err) && commit(ledger, err)) {
        acknowledged_note(ledger, ledger->last_id);
        ledger->commits++;
        leave(ledger);
        return true;
    }
    transaction_rollback(ledger);
    return gone && in_place_fail(ledger, err);
}

void transaction_rollback(struct ledger *ledger)
{
    if (ledger->depth > 0)
        item_codes_forget(ledger);
    /* SQLite may have rolled back by itself, for want of room for example. */
    if (!sqlite3_get_autocommit(ledger->db))
        run(ledger, SQL_ROLLBACK, NULL);
    leave(ledger);
}

/* What counts is that something is written; a row that stays as it is would not be, so a serial is
 * skipped. */
static bool settle_doubt(struct ledger *ledger, bool *ret_recorded, struct err *err)
{
    bool recorded;
    int64_t last = 0;
    struct query query = query_begin(ledger, SQL_LAST_ID);
    if (!look(ledger, &recorded, err) || !query_single(&query, &last, err))
        return false;
    query = query_with(ledger, SQL_LAST_ID_SAVE, last + 1);
    if (!query_run(&query, err))
        return false;
    *ret_recorded = recorded;
    return true;
}

bool transaction_settle(struct ledger *ledger, bool *ret_recorded, struct err *err)
{
    bool recorded = false;
    if (ledger->in_doubt && (!begin(ledger, err) ||
                             !transaction_end(ledger, settle_doubt(ledger, &recorded, err), err)))
        return false;
    *ret_recorded = recorded;
    return true;
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
