/* Backup and restore. A copy is written under a temporary name beside its place, checked, brought
 * to the disk and only then renamed, so that at every moment either the old file or the whole new
 * one stands there. A ledger that is replaced is set aside with all its files, never deleted. */
#include "senbetsu/store/backup.h"

#include "connection.h"
#include "private.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool exists(const char *path)
{
    struct stat about;
    return lstat(path, &about) == 0;
}

/* A new name is on the disk only when its folder is. */
static void sync_folder(const char *path)
{
    struct text folder;
    text_init(&folder);
    const char *slash = strrchr(path, '/');
    text_add_bytes(&folder, slash == NULL ? "." : path,
                   slash == NULL ? 1 : (size_t)(slash - path) + 1);
    int file = open(folder.data, O_RDONLY | O_CLOEXEC);
    if (file >= 0) {
        fsync(file);
        close(file);
    }
    text_done(&folder);
}

static bool move(const char *from, const char *to, struct err *err)
{
    if (rename(from, to) != 0)
        return err_set(err, ERR_SYSTEM, "%s could not be renamed to %s: %s.", from, to,
                       strerror(errno));
    sync_folder(to);
    return true;
}

static bool say_taken(const char *path, struct err *err)
{
    return err_set(err, ERR_EXISTS, "There is already a file %s; choose another name.", path);
}

/* What a copy must agree in: the layout and the number of rows. */
struct facts {
    int version;
    int rows;
};

static bool read_facts(sqlite3 *db, const char *path, struct facts *ret, struct err *err)
{
    return connection_number(db, path, "PRAGMA user_version", &ret->version, err) &&
           connection_number(db, path, sql_texts[SQL_ROWS_IN_ALL], &ret->rows, err);
}

static bool check_agrees(const char *copy, const struct facts *expected, struct err *err)
{
    sqlite3 *db;
    struct facts facts;
    if (!connection_open(copy, false, &db, err))
        return false;
    bool read = read_facts(db, copy, &facts, err);
    connection_close(db, copy, true);
    if (!read)
        return false;
    return (facts.version == expected->version && facts.rows == expected->rows) ||
           err_set(err, ERR_SYSTEM, "The copy differs from the ledger; try again.");
}

/* One read transaction around both, so that facts and copy are of the same moment. */
static bool copy_now(struct ledger *ledger, const char *temporary, struct err *err)
{
    struct facts facts;
    ledger_read_begin(ledger);
    bool copied = read_facts(ledger->db, ledger->path, &facts, err) &&
                  connection_copy(ledger->db, ledger->path, temporary, err);
    ledger_read_end(ledger);
    return copied && check_agrees(temporary, &facts, err);
}

/* An empty file under the temporary name: whether a copy can be made there is known at once. */
static bool begin_file(const char *temporary, const char *path, struct err *err)
{
    int file = open(temporary, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (file < 0)
        return err_set(err, ERR_SYSTEM, "The copy %s cannot be written: %s.", path,
                       strerror(errno));
    close(file);
    return true;
}

bool ledger_backup(struct ledger *ledger, const char *path, struct err *err)
{
    struct text temporary;
    if (exists(path))
        return say_taken(path, err);
    text_init(&temporary);
    text_addf(&temporary, "%s.unfinished", path);
    bool done = begin_file(temporary.data, path, err) && copy_now(ledger, temporary.data, err) &&
                move(temporary.data, path, err);
    if (!done)
        unlink(temporary.data);
    text_done(&temporary);
    return done;
}

static bool copy_bytes(int from, int to)
{
    char buffer[1 << 16];
    ssize_t size;
    while ((size = read(from, buffer, sizeof buffer)) > 0) {
        errno = ENOSPC; /* what a write that stops half-way does not say */
        if (write(to, buffer, (size_t)size) != size)
            return false;
    }
    return size == 0;
}

/* Byte by byte: the copy may lie on something that cannot be written to. */
static bool copy_file(const char *copy, const char *to, struct err *err)
{
    int from = open(copy, O_RDONLY | O_CLOEXEC);
    int file = from < 0 ? -1 : open(to, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    bool copied = file >= 0 && copy_bytes(from, file);
    if (!copied)
        err_set(err, ERR_SYSTEM, "%s could not be copied to %s: %s.", copy, to, strerror(errno));
    if (file >= 0)
        close(file);
    if (from >= 0)
        close(from);
    return copied;
}

/* The copy beside the place it is to take, checked. */
static bool bring_copy(const char *copy, const char *temporary, struct err *err)
{
    struct err cause;
    if (!copy_file(copy, temporary, err))
        return false;
    if (connection_finish_copy(temporary, &cause))
        return true;
    if (cause.code == ERR_DAMAGE || cause.code == ERR_LEDGER)
        return err_set(err, ERR_LEDGER, "The copy %s is damaged; use another one.", copy);
    return err_set(err, cause.code, "%s", cause.text);
}

/* Empties the ledger's WAL into it and sees that nobody has it open. One that is damaged, or no
 * ledger at all, is put aside as it lies. */
static bool settle_old(const char *path, struct err *err)
{
    sqlite3 *db;
    struct err cause;
    if (!file_check_header(path, INT_MAX, NULL) || !connection_open(path, false, &db, NULL))
        return true;
    bool settled = connection_run(db, path, "PRAGMA journal_mode = DELETE", &cause);
    connection_close(db, path, !settled);
    return settled || cause.code != ERR_BUSY || err_set(err, cause.code, "%s", cause.text);
}

static void move_beside(const char *path, const char *kept, const char *suffix)
{
    struct text from;
    struct text to;
    text_init(&from);
    text_init(&to);
    text_addf(&from, "%s%s", path, suffix);
    text_addf(&to, "%s%s", kept, suffix);
    rename(from.data, to.data);
    text_done(&from);
    text_done(&to);
}

static bool set_aside(const char *path, const char *kept, struct err *err)
{
    if (exists(kept))
        return say_taken(kept, err);
    if (!settle_old(path, err) || !move(path, kept, err))
        return false;
    move_beside(path, kept, "-wal");
    move_beside(path, kept, "-shm");
    move_beside(path, kept, "-journal");
    return true;
}

static bool put_in_place(const char *temporary, const char *path, const char *kept, struct err *err)
{
    if (*kept != '\0' && !set_aside(path, kept, err))
        return false;
    if (move(temporary, path, err))
        return true;
    if (*kept != '\0')
        rename(kept, path);
    return false;
}

/* "PATH.before-restore-20260614-084105", in local time. */
static void name_kept(const char *path, const struct clock *clock, char *ret_kept, size_t size)
{
    int64_t now = clock_now(clock);
    char day[DATE_SIZE];
    char time[TIME_OF_DAY_SIZE];
    date_of_instant(now, clock->offset_minutes, day);
    time_of_instant(now, clock->offset_minutes, time);
    snprintf(ret_kept, size, "%s.before-restore-%.4s%.2s%.2s-%.2s%.2s%02d", path, day, day + 5,
             day + 8, time, time + 3, (int)(now / 1000 % 60));
}

static bool check_restorable(const char *copy, const char *path, struct err *err)
{
    struct stat from;
    struct stat to;
    if (!file_check_header(copy, migration_count, err))
        return false;
    if (file_has_beside(copy, "-wal"))
        return err_set(
            err, ERR_INPUT,
            "%s is a ledger that is in use or was not closed; copy it with the command backup.",
            copy);
    if (stat(path, &to) != 0)
        return true;
    if (!S_ISREG(to.st_mode))
        return err_set(err, ERR_SYSTEM, "%s is not an ordinary file, so no copy can replace it.",
                       path);
    if (stat(copy, &from) == 0 && from.st_dev == to.st_dev && from.st_ino == to.st_ino)
        return err_set(err, ERR_INPUT, "%s is the ledger itself, not a copy of it.", copy);
    return true;
}

bool ledger_restore(const char *copy, const char *path, const struct clock *clock, char *ret_kept,
                    size_t size, struct err *err)
{
    char kept[4096] = "";
    struct text temporary;
    if (!check_restorable(copy, path, err))
        return false;
    if (exists(path))
        name_kept(path, clock, kept, sizeof kept);
    text_init(&temporary);
    text_addf(&temporary, "%s.unfinished", path);
    bool done =
        bring_copy(copy, temporary.data, err) && put_in_place(temporary.data, path, kept, err);
    if (!done)
        unlink(temporary.data);
    text_done(&temporary);
    if (done)
        text_copy(ret_kept, size, kept);
    return done;
}
