#include "connection.h"

#include "file_check.h"
#include "senbetsu/base/text.h"
#include "sqlite_error.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { BUSY_WAIT_MS = 3000 };

static bool fails(sqlite3 *db, const char *path, int code, struct err *err)
{
    return sqlite_error(path, code, sqlite3_errmsg(db), err);
}

bool connection_run(sqlite3 *db, const char *path, const char *sql, struct err *err)
{
    int code = sqlite3_exec(db, sql, NULL, NULL, NULL);
    return code == SQLITE_OK || fails(db, path, code, err);
}

/* The first column of the first row, as text ("" where there is none). */
static bool first_value(sqlite3 *db, const char *path, const char *sql, char *buffer, size_t size,
                        struct err *err)
{
    sqlite3_stmt *statement;
    int code = sqlite3_prepare_v2(db, sql, -1, &statement, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(statement);
    const unsigned char *value = code == SQLITE_ROW ? sqlite3_column_text(statement, 0) : NULL;
    text_copy(buffer, size, value == NULL ? "" : (const char *)value);
    bool fine = code == SQLITE_ROW || code == SQLITE_DONE || fails(db, path, code, err);
    sqlite3_finalize(statement);
    return fine;
}

bool connection_number(sqlite3 *db, const char *path, const char *sql, int *ret, struct err *err)
{
    char value[32];
    if (!first_value(db, path, sql, value, sizeof value, err))
        return false;
    *ret = (int)strtol(value, NULL, 10);
    return true;
}

bool connection_check(sqlite3 *db, const char *path, const char *pragma, struct err *err)
{
    char value[256];
    struct text sql;
    text_init(&sql);
    text_addf(&sql, "PRAGMA %s(1)", pragma);
    bool ran = first_value(db, path, sql.data, value, sizeof value, err);
    text_done(&sql);
    return ran && (strcmp(value, "ok") == 0 || sqlite_error(path, SQLITE_CORRUPT, value, err));
}

static void harden(sqlite3 *db)
{
    static const struct {
        int option;
        int value;
    } settings[] = {
        {SQLITE_DBCONFIG_DEFENSIVE, 1},      {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
        {SQLITE_DBCONFIG_DQS_DDL, 0},        {SQLITE_DBCONFIG_DQS_DML, 0},
        {SQLITE_DBCONFIG_ENABLE_FKEY, 1},    {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
        {SQLITE_DBCONFIG_ENABLE_TRIGGER, 1},
    };
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++)
        sqlite3_db_config(db, settings[i].option, settings[i].value, NULL);
    sqlite3_limit(db, SQLITE_LIMIT_ATTACHED, 0);
    sqlite3_busy_timeout(db, BUSY_WAIT_MS);
}

bool connection_open(const char *path, bool create, sqlite3 **ret, struct err *err)
{
    sqlite3 *db;
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE |
                (create ? SQLITE_OPEN_CREATE : 0);
    int code = sqlite3_open_v2(path, &db, flags, NULL);
    if (code != SQLITE_OK) {
        fails(db, path, code, err);
        sqlite3_close(db);
        return false;
    }
    harden(db);
    /* SQLite opens a file that it may not write without a word. */
    if (sqlite3_db_readonly(db, "main") == 1) {
        sqlite3_close(db);
        return sqlite_error(path, SQLITE_READONLY, "", err);
    }
    if (!connection_run(db, path, "PRAGMA cell_size_check = ON", err)) {
        connection_close(db, path, true);
        return false;
    }
    *ret = db;
    return true;
}

void connection_close(sqlite3 *db, const char *path, bool aborted)
{
    /* Content of an unfinished session beside the file belongs to whoever comes next. */
    if (aborted && file_has_beside(path, "-wal"))
        sqlite3_db_config(db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    int code = sqlite3_close(db);
    assert(code == SQLITE_OK);
    (void)code;
}

bool connection_journal(sqlite3 *db, const char *path, struct err *err)
{
    char mode[16];
    if (!first_value(db, path, "PRAGMA journal_mode = WAL", mode, sizeof mode, err))
        return false;
    /* Some file systems cannot share memory; the older journal is slower and just as safe. */
    if (strcmp(mode, "wal") != 0 && !connection_run(db, path, "PRAGMA journal_mode = DELETE", err))
        return false;
    return connection_run(db, path, "PRAGMA synchronous = FULL", err);
}

bool connection_checkpoint(sqlite3 *db, const char *path, struct err *err)
{
    int code = sqlite3_wal_checkpoint_v2(db, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL, NULL);
    return code == SQLITE_OK || fails(db, path, code, err);
}

static bool copy_pages(sqlite3 *db, const char *path, sqlite3 *copy, const char *to,
                       struct err *err)
{
    sqlite3_backup *backup = sqlite3_backup_init(copy, "main", db, "main");
    if (backup == NULL)
        return fails(copy, to, sqlite3_errcode(copy), err);
    int code = sqlite3_backup_step(backup, -1);
    sqlite3_backup_finish(backup);
    return code == SQLITE_DONE || sqlite_error(path, code, sqlite3_errstr(code), err);
}

/* A copy is one file, not three, and at home nowhere: opened, it becomes a station of its own. */
static bool settle_copy(sqlite3 *copy, const char *path, struct err *err)
{
    return connection_check(copy, path, "integrity_check", err) &&
           connection_run(copy, path, "PRAGMA journal_mode = DELETE", err) &&
           connection_run(copy, path, "UPDATE station SET host = '', device = 0, inode = 0", err);
}

static bool to_disk(const char *path, struct err *err)
{
    int file = open(path, O_RDONLY | O_CLOEXEC);
    bool fine = file >= 0 && fsync(file) == 0;
    if (!fine)
        err_set(err, ERR_SYSTEM, "The copy %s could not be written to disk: %s.", path,
                strerror(errno));
    if (file >= 0)
        close(file);
    return fine;
}

bool connection_finish_copy(const char *path, struct err *err)
{
    sqlite3 *copy = NULL;
    if (!connection_open(path, false, &copy, err))
        return false;
    bool settled = settle_copy(copy, path, err);
    connection_close(copy, path, !settled);
    return settled && to_disk(path, err);
}

bool connection_copy(sqlite3 *db, const char *path, const char *to, struct err *err)
{
    sqlite3 *copy = NULL;
    if (!connection_open(to, true, &copy, err))
        return false;
    bool copied = copy_pages(db, path, copy, to, err);
    connection_close(copy, to, !copied);
    if (copied && connection_finish_copy(to, err))
        return true;
    unlink(to);
    return false;
}
