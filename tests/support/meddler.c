#include "support/meddler.h"
#include "support/test.h"

#include <sqlite3.h>

static struct {
    const char *path;
    int left; /* statements until he writes; 0 = he does not */
    bool wrote;
} meddler;

static const char there[] = "BEGIN IMMEDIATE;"
                            "UPDATE spawning SET code = 'X' || code;"
                            "UPDATE lot SET code = 'X' || code;"
                            "UPDATE parent SET code = 'X' || code;"
                            "UPDATE round_count SET kept_number = kept_number - 1"
                            " WHERE kept_number > 0;"
                            "COMMIT";
static const char back[] = "BEGIN IMMEDIATE;"
                           "UPDATE round_count SET kept_number = kept_number + 1"
                           " WHERE kept_number > 0;"
                           "UPDATE parent SET code = substr(code, 2);"
                           "UPDATE lot SET code = substr(code, 2);"
                           "UPDATE spawning SET code = substr(code, 2);"
                           "COMMIT";

static bool is_there(sqlite3 *db)
{
    sqlite3_stmt *statement;
    assert_int_equal(
        sqlite3_prepare_v2(db, "SELECT 1 FROM parent WHERE code LIKE 'X%'", -1, &statement, NULL),
        SQLITE_OK);
    bool found = sqlite3_step(statement) == SQLITE_ROW;
    sqlite3_finalize(statement);
    return found;
}

void meddler_write(const char *path)
{
    sqlite3 *db;
    char *message = NULL;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    if (sqlite3_exec(db, is_there(db) ? back : there, NULL, NULL, &message) != SQLITE_OK)
        fail_msg("%s", message);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

static int carried_out(unsigned what, void *context, void *statement, void *unused)
{
    (void)what, (void)context, (void)unused;
    sqlite3 *db = sqlite3_db_handle(statement);
    if (meddler.left == 0 || sqlite3_txn_state(db, "main") == SQLITE_TXN_WRITE)
        return 0;
    if (--meddler.left == 0) {
        meddler_write(meddler.path);
        meddler.wrote = true;
    }
    return 0;
}

static int watch(sqlite3 *db, char **message, const struct sqlite3_api_routines *api)
{
    (void)message, (void)api;
    return sqlite3_trace_v2(db, SQLITE_TRACE_PROFILE, carried_out, NULL);
}

/* SQLite wants to know the function as one without parameters. */
static void (*const entry)(void) = (void (*)(void))watch;

void meddler_watch(void)
{
    assert_int_equal(sqlite3_auto_extension(entry), SQLITE_OK);
}

void meddler_stop(void)
{
    assert_int_equal(sqlite3_cancel_auto_extension(entry), 1);
}

void meddler_await(const char *path, int statements)
{
    meddler.path = path;
    meddler.left = statements;
    meddler.wrote = false;
}

bool meddler_wrote(void)
{
    meddler.left = 0;
    return meddler.wrote;
}
