/* Restoring. The order of the steps is what this file is about, for it may be broken off between
 * any two of them (docs/decisions/restore.md):
 *
 *   1. The copy is brought beside the ledger, settled and checked: nothing has happened yet.
 *   2. It gets the name "PATH.restoring-STAMP". From here on the restore happens: whoever opens the
 *      ledger after a break first takes the steps that are left.
 *   3. The old ledger gets its second name, "PATH.before-restore-STAMP", by link(), so that its
 * first name never leads nowhere; its journals move to that name, so that SQLite never finds them
 *      beside the new file, which it would change by them.
 *   4. The copy is renamed over the ledger's path, and with that "PATH.restoring-STAMP" is gone.
 *
 * A lock on the copy tells a restore that goes on from one that was broken off. */
#include "senbetsu/store/restore.h"
#include "restore.h"

#include "connection.h"
#include "copy.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/beside.h"
#include "senbetsu/base/new_file.h"
#include "senbetsu/base/text.h"

#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool exists(const char *path)
{
    struct stat about;
    return lstat(path, &about) == 0;
}

static char *name_beside(const char *path, enum beside kind, const char *rest)
{
    struct text name;
    text_init(&name);
    beside_add(&name, path, kind);
    text_add(&name, rest);
    return name.data;
}

/* What lies beside a ledger lies beside its file, not beside a link to it. */
static char *real_path(const char *path)
{
    char *real = realpath(path, NULL);
    return real != NULL ? real : alloc_text(path);
}

/* The names of one restore. */
struct swap {
    const char *path;
    char *kept;      /* what the old ledger is called afterwards */
    char *restoring; /* what the new one is called until then */
};

static struct swap swap_names(const char *path, const char *stamp)
{
    return (struct swap){path, name_beside(path, BESIDE_BEFORE_RESTORE, stamp),
                         name_beside(path, BESIDE_RESTORING, stamp)};
}

static void swap_done(struct swap *swap)
{
    free(swap->kept);
    free(swap->restoring);
}

static bool same_file(const char *a, const char *b)
{
    struct stat of_a;
    struct stat of_b;
    return lstat(a, &of_a) == 0 && lstat(b, &of_b) == 0 && of_a.st_dev == of_b.st_dev &&
           of_a.st_ino == of_b.st_ino;
}

/* Where the disk has no hard links the path leads nowhere until the last step; nobody begins a
 * ledger there meanwhile, for "PATH.restoring-…" is there. */
static bool keep_old(const struct swap *swap)
{
    if (link(swap->path, swap->kept) == 0 || errno == ENOENT)
        return true;
    if (errno == EEXIST)
        return same_file(swap->path, swap->kept); /* errno stays EEXIST where it is another */
    return (errno == EPERM || errno == EOPNOTSUPP || errno == ENOSYS) &&
           rename(swap->path, swap->kept) == 0;
}

/* What goes with a ledger. */
static const enum beside company[] = {BESIDE_WAL, BESIDE_SHM, BESIDE_JOURNAL, BESIDE_ACKNOWLEDGED};
enum { COMPANY = sizeof company / sizeof *company };

/* Those of `from` that are there become those of `to`. */
static bool move_company(const char *from, const char *to)
{
    bool moved = true;
    for (int i = 0; moved && i < COMPANY; i++) {
        char *old = name_beside(from, company[i], "");
        char *new = name_beside(to, company[i], "");
        moved = rename(old, new) == 0 || errno == ENOENT;
        int why = errno;
        free(old);
        free(new);
        errno = why;
    }
    return moved;
}

/* Steps 3 and 4; they may have been taken in part. */
static bool swap_files(const struct swap *swap)
{
    return keep_old(swap) && move_company(swap->path, swap->kept) && folder_sync(swap->path) &&
           rename(swap->restoring, swap->path) == 0 && folder_sync(swap->path);
}

/* Step 3 backwards. "PATH.restoring-…" goes last: while it is there, who is killed here leaves a
 * restore that will be finished. */
static bool swap_back(const struct swap *swap)
{
    if (!exists(swap->restoring)) /* the new one has the name; only its folder was not synced */
        return false;
    bool back = move_company(swap->kept, swap->path) &&
                (!exists(swap->kept) || (exists(swap->path) ? unlink(swap->kept) == 0
                                                            : rename(swap->kept, swap->path) == 0));
    return back && folder_sync(swap->path) && unlink(swap->restoring) == 0;
}

static bool say_broken_off(const struct swap *swap, struct err *err)
{
    return err_set(err, err_class(errno),
                   "The restore was broken off (%s); opening the ledger again finishes it: %s.",
                   strerror(errno), swap->path);
}

static bool swap_or_not(const struct swap *swap, struct err *err)
{
    if (swap_files(swap))
        return true;
    int why = errno;
    if (swap_back(swap))
        return new_file_fails(swap->path, why, err);
    errno = why;
    return say_broken_off(swap, err);
}

/* Is this the file that is open? */
static bool is_at(int file, const char *path)
{
    struct stat opened;
    struct stat there;
    return fstat(file, &opened) == 0 && lstat(path, &there) == 0 && opened.st_dev == there.st_dev &&
           opened.st_ino == there.st_ino;
}

/* Step 2. */
static bool begin_swap(const struct swap *swap, struct new_file *file, struct err *err)
{
    if (new_file_place(file, false, err))
        return true;
    return is_at(file->file, swap->restoring) && say_broken_off(swap, err);
}

/* Copying. Byte by byte, for the copy may lie on something that cannot be written to. */
static bool copy_bytes(const char *copy, const struct new_file *to, struct err *err)
{
    char buffer[1 << 16];
    ssize_t size = -1;
    bool written = true;
    int from = open(copy, O_RDONLY | O_CLOEXEC);
    while (from >= 0 && written && (size = read(from, buffer, sizeof buffer)) > 0) {
        errno = ENOSPC; /* what a write that stops half-way does not say */
        written = write(to->file, buffer, (size_t)size) == size;
    }
    int why = errno;
    if (from >= 0)
        close(from);
    if (!written)
        return new_file_fails(to->path, why, err);
    return size == 0 ||
           err_set(err, err_class(why), "The copy cannot be read (%s): %s.", strerror(why), copy);
}

/* Step 1. */
static bool bring_copy(const char *copy, const char *path, const struct new_file *file,
                       struct err *err)
{
    bool sound = false;
    struct err why = {0};
    if (!copy_bytes(copy, file, err))
        return false;
    bool checked = copy_file_settle(file->temporary, path, &why) &&
                   copy_file_check(file->temporary, path, &sound, &why);
    if (checked && sound)
        return true;
    if (checked || why.code == ERR_DAMAGE || why.code == ERR_LEDGER)
        return err_set(err, ERR_DAMAGE, "The copy is damaged; use another one: %s.", copy);
    return err_set(err, why.code, "%s", why.text);
}

/* Empties the old ledger's journals into it and keeps everybody from it until `*ret` is closed. One
 * that is damaged, or no ledger at all, is put aside as it lies (`*ret` is NULL). */
static bool hold_old(const char *path, sqlite3 **ret, struct err *err)
{
    sqlite3 *db = NULL;
    struct err why = {0};
    bool reopened = false; /* by somebody between the two statements */
    *ret = NULL;
    if (!file_check_header(path, INT_MAX, NULL) || !connection_open(path, false, &db, &why))
        return true;
    bool held = connection_run(db, path, "PRAGMA journal_mode = DELETE", &why) &&
                connection_run(db, path, "BEGIN EXCLUSIVE", &why) &&
                connection_in_wal(db, path, &reopened, &why);
    if (held && !reopened) {
        *ret = db;
        return true;
    }
    connection_close(db, path, true);
    return (why.code != ERR_BUSY && !reopened) ||
           err_set(err, ERR_BUSY, "The ledger is open in another window; close that first: %s.",
                   path);
}

/* Closing any descriptor of the file ends the lock. */
static bool lock(int file)
{
    struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    return fcntl(file, F_SETLK, &whole) == 0;
}

static bool check_restorable(const char *copy, const char *path, struct err *err)
{
    struct stat from;
    struct stat to;
    if (!file_check_header(copy, migration_count, err))
        return false;
    if (file_has_beside(copy, "-wal") || file_has_beside(copy, "-journal"))
        return err_set(err, ERR_INPUT,
                       "A ledger that is in use or was not closed is no copy; make one with the "
                       "command backup: %s.",
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

/* Steps 1 to 4. */
static bool take_steps(const char *copy, const struct swap *swap, struct new_file *file,
                       struct err *err)
{
    sqlite3 *old;
    if (!bring_copy(copy, swap->path, file, err) || !hold_old(swap->path, &old, err))
        return false;
    bool done = (lock(file->file) || new_file_fails(swap->path, errno, err)) &&
                begin_swap(swap, file, err) && swap_or_not(swap, err);
    if (old != NULL)
        connection_close(old, swap->path, true);
    return done;
}

static bool restore(const char *copy, const char *path, const char *stamp, bool *ret_kept,
                    struct err *err)
{
    struct new_file file = {.file = -1};
    struct swap names = swap_names(path, stamp);
    bool done = (!exists(names.kept) || new_file_taken(names.kept, err)) &&
                new_file_begin(&file, names.restoring, 0600, err);
    if (done) {
        new_file_like(&file, path);
        done = take_steps(copy, &names, &file, err);
    }
    new_file_done(&file);
    *ret_kept = done && exists(names.kept);
    swap_done(&names);
    return done;
}

bool ledger_restore(const char *copy, const char *path, const struct clock *clock, char *ret_kept,
                    size_t size, struct err *err)
{
    char stamp[STAMP_SIZE];
    bool kept;
    char *real = real_path(path);
    stamp_now(clock, stamp);
    bool done = restore_resume(path, err) && check_restorable(copy, real, err) &&
                restore(copy, real, stamp, &kept, err);
    if (done && kept) {
        char *name = name_beside(path, BESIDE_BEFORE_RESTORE, stamp);
        text_copy(ret_kept, size, name);
        free(name);
    } else if (done) {
        text_copy(ret_kept, size, "");
    }
    free(real);
    return done;
}

/* Goes through what lies beside `path`, until `see` has seen enough. */
static bool look_beside(const char *path,
                        bool (*see)(void *context, const char *found, enum beside kind,
                                    const char *rest),
                        void *context)
{
    const char *slash = strrchr(path, '/');
    size_t folder_length = slash == NULL ? 0 : (size_t)(slash - path) + 1;
    struct text name;
    bool found = false;
    text_init(&name);
    text_add_bytes(&name, path, folder_length);
    DIR *folder = opendir(folder_length == 0 ? "." : name.data);
    for (struct dirent *entry; !found && folder != NULL && (entry = readdir(folder)) != NULL;) {
        size_t length;
        enum beside kind;
        name.length = folder_length;
        text_add(&name, entry->d_name);
        if (!beside_split(name.data, &length, &kind) || length != strlen(path) ||
            strncmp(name.data, path, length) != 0)
            continue;
        char *mark = name_beside(path, kind, "");
        found = see(context, name.data, kind, name.data + strlen(mark));
        free(mark);
    }
    if (folder != NULL)
        closedir(folder);
    text_done(&name);
    return found;
}

static bool is_stamp(const char *text)
{
    static const char form[] = "00000000-000000";
    if (strlen(text) != sizeof form - 1)
        return false;
    for (size_t i = 0; text[i] != '\0'; i++)
        if (form[i] == '0' ? !isdigit((unsigned char)text[i]) : text[i] != form[i])
            return false;
    return true;
}

static bool see_restoring(void *context, const char *found, enum beside kind, const char *rest)
{
    char *stamp = context;
    (void)found;
    if (kind != BESIDE_RESTORING || !is_stamp(rest))
        return false;
    text_copy(stamp, STAMP_SIZE, rest);
    return true;
}

static bool say_unfinished(const char *path, int why, struct err *err)
{
    return err_set(err, err_class(why),
                   "A restore was broken off and cannot be finished (%s); see who may write "
                   "there: %s.",
                   strerror(why), path);
}

/* Whoever holds the lock restores. */
static bool resume_locked(const struct swap *swap, int file, struct err *err)
{
    if (!lock(file))
        return err_set(err, ERR_BUSY, "The ledger is being restored; try again in a moment: %s.",
                       swap->path);
    return !is_at(file, swap->restoring) || swap_files(swap) ||
           say_unfinished(swap->path, errno, err);
}

static bool resume(const char *path, const char *stamp, struct err *err)
{
    struct swap swap = swap_names(path, stamp);
    int file = open(swap.restoring, O_RDWR | O_NOFOLLOW | O_CLOEXEC);
    bool done = file >= 0 ? resume_locked(&swap, file, err)
                          : errno == ENOENT || say_unfinished(path, errno, err);
    if (file >= 0)
        close(file);
    swap_done(&swap);
    return done;
}

bool restore_resume(const char *path, struct err *err)
{
    char stamp[STAMP_SIZE];
    char *real = real_path(path);
    bool done = !look_beside(real, see_restoring, stamp) || resume(real, stamp, err);
    free(real);
    return done;
}

/* What lies beside a place without a ledger: its journal, else what was written last. */
struct remains {
    char *name;
    bool journal;
    struct timespec written;
};

static bool is_later(const struct timespec *a, const struct timespec *b)
{
    return a->tv_sec != b->tv_sec ? a->tv_sec > b->tv_sec : a->tv_nsec > b->tv_nsec;
}

static bool see_remains(void *context, const char *found, enum beside kind, const char *rest)
{
    struct remains *remains = context;
    struct stat about;
    (void)rest;
    if (kind == BESIDE_SHM || kind == BESIDE_ACKNOWLEDGED || lstat(found, &about) != 0 ||
        about.st_size == 0)
        return false;
    bool journal = kind == BESIDE_WAL || kind == BESIDE_JOURNAL;
    if (!journal && remains->name != NULL && !is_later(&about.st_mtim, &remains->written))
        return false;
    free(remains->name);
    *remains = (struct remains){alloc_text(found), journal, about.st_mtim};
    return journal;
}

bool restore_check_vacant(const char *path, struct err *err)
{
    struct remains remains = {.name = NULL};
    char *real = real_path(path);
    look_beside(real, see_remains, &remains);
    bool vacant = remains.name == NULL;
    if (!vacant && remains.journal)
        err_set(err, ERR_LEDGER,
                "The ledger is gone, and its journal is left; put the ledger back beside it: %s.",
                remains.name);
    else if (!vacant)
        err_set(err, ERR_LEDGER,
                "The ledger is gone, and something of it is left; restore from what is newest, or "
                "name another ledger: %s.",
                remains.name);
    free(remains.name);
    free(real);
    return vacant;
}
