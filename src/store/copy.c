/* Copying an open ledger, through SQLite's own backup: page for page, from one read transaction.
 * The copy's file is not synced while it is written and has no journal on the disk, for it counts
 * only when it is whole; then it is brought to the disk once and gets its name (base/new_file.c).
 */
#include "copy.h"

#include "connection.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"

#include <sys/stat.h>

void stamp_now(const struct clock *clock, char ret_stamp[STAMP_SIZE])
{
    int64_t now = clock_now(clock);
    char day[DATE_SIZE];
    char time[TIME_OF_DAY_SIZE];
    struct text stamp;
    date_of_instant(now, clock->offset_minutes, day);
    time_of_instant(now, clock->offset_minutes, time);
    text_init(&stamp);
    text_addf(&stamp, "%.4s%.2s%.2s-%.2s%.2s%02d", day, day + 5, day + 8, time, time + 3,
              (int)(now / 1000 % 60));
    text_copy(ret_stamp, STAMP_SIZE, stamp.data);
    text_done(&stamp);
}

/* Where a page could not be copied: was it the ledger that could not be read? */
static bool is_of_ledger(int code)
{
    switch (code & 0xff) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        return true;
    default:
        return code == SQLITE_IOERR_READ || code == SQLITE_IOERR_SHORT_READ;
    }
}

static bool read_facts(sqlite3 *db, const char *path, int *ret_version, int *ret_page_count,
                       struct err *err)
{
    return connection_number(db, path, "PRAGMA user_version", ret_version, err) &&
           connection_number(db, path, "PRAGMA page_count", ret_page_count, err);
}

static bool open_unsynced(const char *path, sqlite3 **ret, struct err *err)
{
    return connection_open(path, false, ret, err) &&
           connection_run(*ret, path, "PRAGMA locking_mode = EXCLUSIVE", err) &&
           connection_run(*ret, path, "PRAGMA synchronous = OFF", err);
}

bool copy_begin(struct copy *copy, sqlite3 *from, const char *ledger, const char *to,
                struct err *err)
{
    *copy = (struct copy){.ledger = ledger};
    if (!new_file_begin(&copy->file, to, 0600, err))
        return false;
    new_file_like(&copy->file, ledger);
    if (!read_facts(from, ledger, &copy->version, &copy->page_count, err) ||
        !open_unsynced(copy->file.temporary, &copy->to, err) ||
        !connection_run(copy->to, to, "PRAGMA journal_mode = MEMORY", err))
        return false;
    copy->pages = sqlite3_backup_init(copy->to, "main", from, "main");
    return copy->pages != NULL ||
           sqlite_error(to, sqlite3_extended_errcode(copy->to), sqlite3_errmsg(copy->to), err);
}

bool copy_step(struct copy *copy, int pages, bool *ret_all, struct err *err)
{
    int code = sqlite3_backup_step(copy->pages, pages);
    if (code != SQLITE_OK && code != SQLITE_DONE)
        return sqlite_error(is_of_ledger(code) ? copy->ledger : copy->file.path, code,
                            sqlite3_errstr(code), err);
    *ret_all = code == SQLITE_DONE;
    return true;
}

void copy_close(struct copy *copy)
{
    if (copy->pages != NULL)
        sqlite3_backup_finish(copy->pages);
    if (copy->to != NULL)
        connection_close(copy->to, copy->file.path, true);
    copy->pages = NULL;
    copy->to = NULL;
}

bool copy_file_settle(const char *path, const char *called, struct err *err)
{
    sqlite3 *db = NULL;
    bool done =
        open_unsynced(path, &db, err) &&
        connection_run(db, called, "PRAGMA journal_mode = DELETE", err) &&
        connection_run(db, called, "UPDATE station SET host = '', device = 0, inode = 0", err);
    if (db != NULL)
        connection_close(db, path, !done);
    return done;
}

bool copy_file_check(const char *path, const char *called, bool *ret_sound, struct err *err)
{
    sqlite3 *db = NULL;
    struct err why = {0};
    if (!connection_open(path, false, &db, err))
        return false;
    bool sound = connection_check(db, called, "integrity_check", &why);
    connection_close(db, path, true);
    if (!sound && why.code != ERR_DAMAGE)
        return err_set(err, why.code, "%s", why.text);
    *ret_sound = sound;
    return true;
}

/* It was spoilt on its way, or is true to a ledger that is not sound. */
static bool say_unsound(const struct copy *copy, struct err *err)
{
    return err_set(err, ERR_DAMAGE,
                   "The copy came out damaged; use another disk, and look through the ledger with "
                   "check: %s.",
                   copy->file.path);
}

static bool check_facts(const struct copy *copy, struct err *err)
{
    sqlite3 *db = NULL;
    int version = 0, page_count = 0;
    bool read = connection_open(copy->file.temporary, false, &db, err) &&
                read_facts(db, copy->file.path, &version, &page_count, err);
    if (db != NULL)
        connection_close(db, copy->file.path, true);
    if (!read)
        return false;
    return (version == copy->version && page_count == copy->page_count) || say_unsound(copy, err);
}

bool copy_whole(struct copy *copy, struct err *err)
{
    bool sound = false;
    if (!copy_file_settle(copy->file.temporary, copy->file.path, err) ||
        !copy_file_check(copy->file.temporary, copy->file.path, &sound, err))
        return false;
    return (sound || say_unsound(copy, err)) && check_facts(copy, err);
}

bool copy_finish(struct copy *copy, bool replace, struct err *err)
{
    return copy_whole(copy, err) && new_file_place(&copy->file, replace, err);
}

void copy_done(struct copy *copy)
{
    copy_close(copy);
    new_file_done(&copy->file);
}

bool copy_ledger(struct ledger *ledger, const char *to, struct err *err)
{
    struct copy copy;
    struct stat about;
    bool done;
    if (lstat(to, &about) == 0)
        return new_file_taken(to, err);
    ledger_read_begin(ledger);
    done = copy_begin(&copy, ledger->db, ledger->path, to, err) && copy_step(&copy, -1, &done, err);
    copy_close(&copy);
    done = done && copy_finish(&copy, false, err);
    copy_done(&copy);
    ledger_read_end(ledger);
    return done;
}

bool copy_beside(struct ledger *ledger, enum beside kind, const char *rest, char *ret_path,
                 size_t size, struct err *err)
{
    struct err why = {.code = ERR_EXISTS};
    struct text name;
    bool copied = false;
    text_init(&name);
    for (int count = 1; !copied && why.code == ERR_EXISTS; count++) {
        text_clear(&name);
        /* Beside the file, not beside a link to it. */
        beside_add(&name, sqlite3_db_filename(ledger->db, "main"), kind);
        text_add(&name, rest);
        if (count > 1)
            text_addf(&name, ".%d", count);
        copied = copy_ledger(ledger, name.data, &why);
    }
    if (copied && ret_path != NULL)
        text_copy(ret_path, size, name.data);
    text_done(&name);
    return copied || err_set(err, why.code, "%s", why.text);
}
