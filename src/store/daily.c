/* Daily copies. A second connection holds one moment of the ledger in a read transaction while its
 * pages are copied, so that others may write; but what they write stays in the WAL meanwhile. So a
 * copy that somebody's keys have held up for long is given up, and begun again later.
 *
 * What is copied is synced slice by slice: a sync of all of it at once would hold up the next key.
 * To look through the copy takes a second and more, and SQLite cannot do it in slices: a process of
 * its own does it, which never touches the ledger, for locks are not inherited.
 *
 * A copy must not take the room that the ledger needs: it is made only where at least as much is
 * left free as the ledger takes. */
#include "senbetsu/store/daily.h"

#include "connection.h"
#include "copy.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <dirent.h>
#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
    PAGES_A_SLICE = 64,
    GIVEN_UP_AFTER_MS = 60 * 1000,
    DAYS_KEPT = 7,
    MONTHS_KEPT = 12,
    LEAST_FREE = 16 * 1024 * 1024,
};

struct daily {
    struct ledger *ledger;
    enum daily_when when;
    bool (*next)(struct daily *daily, struct err *err);
    char *folder;
    char *path; /* of today's copy */
    sqlite3 *from;
    struct copy copy;
    bool copying; /* `copy` has been begun */
    int64_t begun_ms;
    pid_t finisher; /* the process that looks through the copy, 0 = none */
    int told;       /* where it says how that went */
};

/* The steps, in order; each sets the next, NULL after the last. */
static bool look_whether_due(struct daily *daily, struct err *err);
static bool begin_copy(struct daily *daily, struct err *err);
static bool copy_pages(struct daily *daily, struct err *err);
static bool wait_for_finish(struct daily *daily, struct err *err);

struct daily *daily_new(struct ledger *ledger, enum daily_when when)
{
    struct daily *daily = alloc_zeroed(1, sizeof *daily);
    char today[DATE_SIZE];
    struct text name;
    text_init(&name);
    beside_add(&name, sqlite3_db_filename(ledger->db, "main"), BESIDE_COPIES);
    daily->folder = alloc_text(name.data);
    clock_today(&ledger->clock, today);
    text_addf(&name, "/%s.db", today);
    daily->path = name.data;
    daily->ledger = ledger;
    daily->when = when;
    daily->next = look_whether_due;
    return daily;
}

static void close_ledger(struct daily *daily)
{
    if (daily->from != NULL)
        connection_close(daily->from, daily->ledger->path, true);
    daily->from = NULL;
}

static void stop_copying(struct daily *daily)
{
    if (daily->copying)
        copy_done(&daily->copy);
    daily->copying = false;
    close_ledger(daily);
}

static bool end_of_finisher(struct daily *daily, struct err *err);

void daily_free(struct daily *daily)
{
    if (daily == NULL)
        return;
    if (daily->finisher > 0) {
        kill(daily->finisher, SIGKILL);
        end_of_finisher(daily, NULL);
    }
    stop_copying(daily);
    free(daily->folder);
    free(daily->path);
    free(daily);
}

static bool is_older(const struct timespec *a, const struct timespec *b)
{
    return a->tv_sec != b->tv_sec ? a->tv_sec < b->tv_sec : a->tv_nsec < b->tv_nsec;
}

/* Has anything been written to the ledger since that copy was made? */
static bool is_behind(const struct daily *daily, const struct stat *copy)
{
    struct stat written;
    struct text wal;
    text_init(&wal);
    beside_add(&wal, daily->ledger->path, BESIDE_WAL);
    bool behind = stat(daily->ledger->path, &written) != 0 ||
                  is_older(&copy->st_mtim, &written.st_mtim) ||
                  (stat(wal.data, &written) == 0 && written.st_size > 0 &&
                   is_older(&copy->st_mtim, &written.st_mtim));
    text_done(&wal);
    return behind;
}

static bool look_whether_due(struct daily *daily, struct err *err)
{
    struct stat copy;
    bool wal;
    if (!connection_in_wal(daily->ledger->db, daily->ledger->path, &wal, err))
        return false;
    bool there = stat(daily->path, &copy) == 0;
    bool due = daily->when == DAILY_LEAVING ? !there || is_behind(daily, &copy) : !there && wal;
    daily->next = due ? begin_copy : NULL;
    return true;
}

static bool check_room(const struct daily *daily, struct err *err)
{
    struct statvfs disk;
    struct stat ledger;
    if (statvfs(daily->folder, &disk) != 0 || stat(daily->ledger->path, &ledger) != 0)
        return new_file_fails(daily->folder, errno, err);
    uint64_t room = (uint64_t)disk.f_bavail * disk.f_frsize;
    return room >= 2 * (uint64_t)ledger.st_size + LEAST_FREE ||
           err_set(err, ERR_FULL,
                   "The disk is too full for the copy of the day; free some space on it: %s.",
                   daily->folder);
}

/* Who may use the ledger may use its copies. */
static bool make_folder(const struct daily *daily, struct err *err)
{
    struct stat ledger;
    if (mkdir(daily->folder, 0700) != 0)
        return errno == EEXIST || new_file_fails(daily->folder, errno, err);
    if (stat(daily->ledger->path, &ledger) == 0) {
        bool same_group = chown(daily->folder, (uid_t)-1, ledger.st_gid) == 0;
        mode_t mode = ledger.st_mode & (same_group ? 0777 : 0707);
        chmod(daily->folder, mode | (mode & 0444) >> 2);
    }
    return folder_sync(daily->folder) || new_file_fails(daily->folder, errno, err);
}

static bool begin_copy(struct daily *daily, struct err *err)
{
    const char *ledger = daily->ledger->path;
    if (!make_folder(daily, err) || !check_room(daily, err) ||
        !connection_open(ledger, false, &daily->from, err) ||
        !connection_run(daily->from, ledger, "BEGIN", err))
        return false;
    daily->copying = true;
    daily->begun_ms = clock_now(&daily->ledger->clock);
    daily->next = copy_pages;
    return copy_begin(&daily->copy, daily->from, ledger, daily->path, err);
}

/* The names of the copies, the latest first. */
struct names {
    char (*days)[DATE_SIZE];
    size_t count, capacity;
};

static int later_first(const void *a, const void *b)
{
    return strcmp(b, a);
}

static struct names list_days(const char *path)
{
    struct names names = {0};
    DIR *folder = opendir(path);
    for (struct dirent *entry; folder != NULL && (entry = readdir(folder)) != NULL;) {
        char day[DATE_SIZE];
        text_copy(day, sizeof day, entry->d_name);
        if (!date_valid(day) || strcmp(entry->d_name + DATE_SIZE - 1, ".db") != 0)
            continue;
        names.days = alloc_room(names.days, names.count, &names.capacity, sizeof *names.days);
        memcpy(names.days[names.count++], day, sizeof day);
    }
    if (folder != NULL)
        closedir(folder);
    if (names.count > 0)
        qsort(names.days, names.count, sizeof *names.days, later_first);
    return names;
}

/* What is old goes; that it cannot be taken away is no reason to complain of a good copy. */
static void prune(const char *folder)
{
    enum { MONTH = 7 }; /* "2026-06" */
    struct names names = list_days(folder);
    struct text path;
    int months = 0;
    text_init(&path);
    for (size_t i = 0; i < names.count; i++) {
        bool last_of_month = i == 0 || strncmp(names.days[i], names.days[i - 1], MONTH) != 0;
        months += last_of_month;
        if (i < DAYS_KEPT || (last_of_month && months <= MONTHS_KEPT))
            continue;
        text_clear(&path);
        text_addf(&path, "%s/%s.db", folder, names.days[i]);
        unlink(path.data);
    }
    text_done(&path);
    free(names.days);
}

static bool finish_here(struct daily *daily, struct err *err)
{
    bool done = copy_finish(&daily->copy, daily->when == DAILY_LEAVING, err);
    if (done)
        prune(daily->folder);
    return done;
}

/* The whole of `err`, which is empty where all went well. */
static void finish_apart(struct daily *daily, int tell)
{
    struct err err = {0};
    (void)!nice(10);
    finish_here(daily, &err);
    new_file_done(&daily->copy.file);
    _exit(write(tell, &err, sizeof err) == (ssize_t)sizeof err ? 0 : 1);
}

static bool begin_apart(struct daily *daily, struct err *err)
{
    int ends[2];
    if (pipe(ends) != 0)
        return new_file_fails(daily->path, errno, err);
    daily->finisher = fork();
    if (daily->finisher == 0)
        finish_apart(daily, ends[1]);
    close(ends[1]);
    daily->told = ends[0];
    if (daily->finisher > 0)
        return true;
    close(ends[0]);
    return new_file_fails(daily->path, errno, err);
}

/* All pages are there. */
static bool finish(struct daily *daily, struct err *err)
{
    copy_close(&daily->copy);
    close_ledger(daily);
    if (daily->when == DAILY_MEANWHILE) {
        daily->next = wait_for_finish;
        return begin_apart(daily, err);
    }
    daily->next = NULL;
    bool done = finish_here(daily, err);
    stop_copying(daily);
    return done;
}

static bool copy_pages(struct daily *daily, struct err *err)
{
    bool all;
    if (!copy_step(&daily->copy, PAGES_A_SLICE, &all, err))
        return false;
    if (fsync(daily->copy.file.file) != 0)
        return new_file_fails(daily->path, errno, err);
    return !all || finish(daily, err);
}

/* Says nothing when the process ended by itself: then there is just no copy. */
static bool end_of_finisher(struct daily *daily, struct err *err)
{
    struct err why = {0};
    bool told = read(daily->told, &why, sizeof why) == (ssize_t)sizeof why;
    while (waitpid(daily->finisher, NULL, 0) < 0 && errno == EINTR)
        continue;
    close(daily->told);
    daily->finisher = 0;
    daily->next = NULL;
    stop_copying(daily);
    if (!told)
        return err_set(err, ERR_SYSTEM, "The program that looks through it ended: %s.",
                       daily->path);
    return why.code == ERR_NONE || err_set(err, why.code, "%s", why.text);
}

static bool wait_for_finish(struct daily *daily, struct err *err)
{
    struct pollfd told = {.fd = daily->told, .events = POLLIN};
    return poll(&told, 1, 0) <= 0 || end_of_finisher(daily, err);
}

/* Somebody's keys have held it up, and the WAL grows. A clock that jumped counts as well. */
static bool is_held_up(const struct daily *daily)
{
    int64_t for_ms = clock_now(&daily->ledger->clock) - daily->begun_ms;
    return daily->from != NULL && daily->when == DAILY_MEANWHILE &&
           (for_ms < 0 || for_ms > GIVEN_UP_AFTER_MS);
}

enum daily_step daily_step(struct daily *daily, struct err *err)
{
    struct err why = {0};
    if (is_held_up(daily)) {
        stop_copying(daily);
        daily->next = look_whether_due;
    }
    if (daily->next == NULL)
        return DAILY_DONE;
    if (daily->next(daily, &why))
        return daily->next == NULL              ? DAILY_DONE
               : daily->next == wait_for_finish ? DAILY_WAITS
                                                : DAILY_GOES_ON;
    stop_copying(daily);
    daily->next = NULL;
    if (why.code == ERR_EXISTS) /* another window was quicker */
        return DAILY_DONE;
    err_set(err, why.code, "There is no copy of today: %s", why.text);
    return DAILY_FAILED;
}

bool daily_copy(struct ledger *ledger, struct err *err)
{
    struct daily *daily = daily_new(ledger, DAILY_LEAVING);
    enum daily_step step = DAILY_GOES_ON;
    while (step == DAILY_GOES_ON)
        step = daily_step(daily, err);
    daily_free(daily);
    return step == DAILY_DONE;
}
