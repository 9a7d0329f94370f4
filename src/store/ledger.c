/* Opening and closing a ledger. The order matters: the file is looked at from outside, then its
 * pages are checked, then its layout; only when all of that holds is anything written (a copy of an
 * older ledger first, then the migrations, then the journal mode and the station). A failure before
 * that leaves the file as it was. */
#include "senbetsu/store/ledger.h"

#include "connection.h"
#include "copy.h"
#include "migrations.h"
#include "private.h"
#include "query.h"
#include "restore.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/beside.h"
#include "senbetsu/base/text.h"
#include "strokes.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Before an older ledger is changed. */
static bool copy_before(struct ledger *ledger, int version, struct err *err)
{
    char rest[16];
    snprintf(rest, sizeof rest, "%d", version);
    return copy_beside(ledger, BESIDE_BEFORE_VERSION, rest, NULL, 0, err);
}

/* All that must be known before the first byte is written. */
static bool check_layout(struct ledger *ledger, const struct migration *steps, int count,
                         int *ret_version, struct err *err)
{
    if (!migrate_version(ledger, ret_version, err))
        return false;
    /* The header may have been behind what an unfinished session left beside the file. */
    if (*ret_version > count)
        return file_check_newer(ledger->path, *ret_version, count, err);
    return migrate_check(ledger, steps, *ret_version, err);
}

/* As of one moment: another program may be making the ledger, or bringing it up. */
static bool check_sound(struct ledger *ledger, const struct migration *steps, int count,
                        int *ret_version, struct err *err)
{
    ledger_read_begin(ledger);
    bool sound = check_layout(ledger, steps, count, ret_version, err);
    ledger_read_end(ledger);
    return sound;
}

static bool bring_up(struct ledger *ledger, const struct migration *steps, int count, int version,
                     struct err *err)
{
    if (version > 0 && version < count && !copy_before(ledger, count, err))
        return false;
    return version == count || migrate(ledger, steps, count, err);
}

/* What is recorded gets its instants from the clock, and nothing puts a wrong one right later. */
static bool look_at_clock(struct ledger *ledger, struct err *err)
{
    static const char year_2020[] = "2020-01-01";
    int64_t now = clock_now(&ledger->clock);
    int64_t latest = 0;
    char today[DATE_SIZE];
    char day[DATE_SIZE];
    char time[TIME_OF_DAY_SIZE];
    struct query query = query_begin(ledger, SQL_LATEST_INSTANT);
    if (!query_single(&query, &latest, err))
        return false;
    if (latest < 0 || latest > date_begins("2199-12-31", 0)) /* no instant at all: check tells */
        latest = 0;
    clock_today(&ledger->clock, today);
    date_of_instant(latest, ledger->clock.offset_minutes, day);
    time_of_instant(latest, ledger->clock.offset_minutes, time);
    if (now < date_begins(year_2020, 0))
        ledger_notice(ledger, "The clock of this machine says %s; set it before you record.",
                      today);
    else if (strcmp(today, day) < 0) /* what was imported is of noon of its day */
        ledger_notice(ledger,
                      "The clock of this machine says %s, but the ledger was written on %s at %s; "
                      "set it before you record.",
                      today, day, time);
    return true;
}

static bool prepare(struct ledger *ledger, const struct ledger_setup *setup,
                    const struct migration *steps, int count, bool *ret_new, struct err *err)
{
    int version;
    if (!in_place_begin(ledger, err) || !check_sound(ledger, steps, count, &version, err) ||
        !bring_up(ledger, steps, count, version, err) ||
        !connection_journal(ledger->db, ledger->path, err) || !station_settle(ledger, setup, err) ||
        !acknowledged_begin(ledger, err) || (!setup->only_read && !look_at_clock(ledger, err)))
        return false;
    *ret_new = version == 0;
    return true;
}

/* Nothing can be brought up or settled in a ledger that cannot be written. */
static bool prepare_shut(struct ledger *ledger, const struct migration *steps, int count,
                         bool *ret_new, struct err *err)
{
    int version;
    if (!in_place_begin(ledger, err) || !check_sound(ledger, steps, count, &version, err))
        return false;
    *ret_new = false;
    return version == count ||
           err_set(err, ERR_READONLY,
                   "The ledger has an older layout and cannot be written here; copy it to where "
                   "it can: %s.",
                   ledger->path);
}

static void ledger_free(struct ledger *ledger, bool aborted)
{
    queries_done(ledger);
    connection_close(ledger->db, ledger->path, aborted);
    item_codes_forget(ledger);
    notices_done(ledger);
    acknowledged_end(ledger);
    free(ledger->rescued);
    free(ledger->path);
    free(ledger);
}

static void remove_both(const char *path, enum beside kind)
{
    struct text beside;
    text_init(&beside);
    beside_add(&beside, path, kind);
    unlink(beside.data);
    unlink(path);
    text_done(&beside);
}

/* A file that was made here and got no content; whatever has content is somebody's. The journal of
 * what was to become of it goes first. */
static void remove_if_empty(const char *path, enum file_kind found)
{
    struct stat about;
    if (found != FILE_ABSENT || stat(path, &about) != 0 || about.st_size != 0)
        return;
    remove_both(path, BESIDE_JOURNAL);
}

/* Only its owner may use a ledger until he says otherwise, whatever the umask is; its journals get
 * the rights of the file from SQLite. */
static bool make_file(const char *path, struct err *err)
{
    int file = open(path, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600);
    if (file < 0 && errno == EEXIST) {
        struct stat about;
        return stat(path, &about) == 0 ||
               err_set(err, ERR_SYSTEM, "This is a link that leads nowhere; name a file: %s.",
                       path);
    }
    if (file < 0)
        return file_error(path, errno, "made", err);
    fchmod(file, 0600);
    close(file);
    /* Its journal comes to the disk after it: without the ledger that would be a riddle. */
    if (folder_sync(path))
        return true;
    int why = errno;
    unlink(path);
    return file_error(path, why, "made", err);
}

static bool connect(const struct ledger_setup *setup, enum file_kind found, struct ledger *ledger,
                    struct err *err)
{
    if (found == FILE_SHUT)
        return stat(setup->path, &ledger->opened) == 0 &&
               connection_open_shut(setup->path, &ledger->db, &ledger->as_it_lies, err);
    return (found != FILE_ABSENT || make_file(setup->path, err)) &&
           connection_open(setup->path, false, &ledger->db, err);
}

static struct ledger *ledger_new(const char *path, const struct clock *clock)
{
    struct ledger *ledger = alloc_zeroed(1, sizeof *ledger);
    ledger->path = alloc_text(path);
    ledger->clock = *clock;
    ledger->acknowledged = -1;
    return ledger;
}

static bool open_found(const struct ledger_setup *setup, enum file_kind found,
                       const struct migration *steps, int count, struct ledger **ret, bool *ret_new,
                       struct err *err)
{
    struct ledger *ledger = ledger_new(setup->path, &setup->clock);
    if (!connect(setup, found, ledger, err)) {
        free(ledger->path);
        free(ledger);
        return false;
    }
    if (found == FILE_SHUT ? !prepare_shut(ledger, steps, count, ret_new, err)
                           : !prepare(ledger, setup, steps, count, ret_new, err)) {
        ledger_free(ledger, true);
        remove_if_empty(setup->path, found);
        return false;
    }
    *ret = ledger;
    return true;
}

bool ledger_open_at(const struct ledger_setup *setup, const struct migration *steps, int count,
                    struct ledger **ret, bool *ret_new, struct err *err)
{
    enum file_kind found;
    if (!restore_resume(setup->path, err) || !file_check(setup->path, count, &found, err))
        return false;
    if (found == FILE_ABSENT && !setup->create)
        return err_set(err, ERR_SYSTEM, "There is no ledger %s.", setup->path);
    if (found == FILE_ABSENT && !restore_check_vacant(setup->path, err))
        return false;
    if (found == FILE_SHUT && !setup->only_read)
        return file_refuse_shut(setup->path, err);
    if (found == FILE_EMPTY && !setup->create)
        return err_set(err, ERR_LEDGER, "%s is empty, not a ledger.", setup->path);
    return open_found(setup, found, steps, count, ret, ret_new, err);
}

bool ledger_open(const struct ledger_setup *setup, struct ledger **ret, bool *ret_new,
                 struct err *err)
{
    return ledger_open_at(setup, migrations, migration_count, ret, ret_new, err);
}

bool ledger_open_copy(const char *copy, const char *called, const struct clock *clock,
                      const struct migration *steps, int count, int *ret_version,
                      struct ledger **ret, struct err *err)
{
    sqlite3 *db;
    int version = 0;
    if (!connection_open(copy, false, &db, err))
        return false;
    struct ledger *ledger = ledger_new(called, clock);
    ledger->db = db;
    if (!check_sound(ledger, steps, count, &version, err) ||
        !(version == count || migrate(ledger, steps, count, err))) {
        ledger_free(ledger, true);
        return false;
    }
    *ret_version = version;
    *ret = ledger;
    return true;
}

void ledger_close(struct ledger *ledger)
{
    if (ledger == NULL)
        return;
    transaction_rollback(ledger);
    queries_done(ledger);
    /* Where another program still reads, SQLite does this when that one closes. */
    sqlite3_busy_timeout(ledger->db, 0);
    connection_checkpoint(ledger->db, ledger->path, NULL);
    ledger_free(ledger, false);
}

void ledger_discard(struct ledger *ledger)
{
    char *path = alloc_text(ledger->path);
    ledger_close(ledger);
    /* Whoever closes last takes this away, so nobody is left who uses the file. */
    if (!file_has_beside(path, "-shm"))
        remove_both(path, BESIDE_ACKNOWLEDGED);
    free(path);
}

bool ledger_held_still(const struct ledger *ledger, struct err *err)
{
    struct stat now;
    if (!ledger->as_it_lies ||
        (stat(ledger->path, &now) == 0 && now.st_ino == ledger->opened.st_ino &&
         now.st_size == ledger->opened.st_size &&
         now.st_mtim.tv_sec == ledger->opened.st_mtim.tv_sec &&
         now.st_mtim.tv_nsec == ledger->opened.st_mtim.tv_nsec &&
         !file_has_beside(ledger->path, "-wal")))
        return true;
    return err_set(err, ERR_BUSY, "Somebody wrote to the ledger while it was read; try again: %s.",
                   ledger->path);
}

static void compare(int64_t version, int64_t *seen, bool *ret_changed)
{
    *ret_changed = version != *seen;
    *seen = version;
}

static bool data_version(struct ledger *ledger, int64_t *ret, struct err *err)
{
    struct query query = query_begin(ledger, SQL_DATA_VERSION);
    return query_single(&query, ret, err);
}

bool ledger_changed_elsewhere(struct ledger *ledger, int64_t *seen, bool *ret_changed,
                              struct err *err)
{
    int64_t version = 0;
    if (!data_version(ledger, &version, err))
        return false;
    compare(version, seen, ret_changed);
    return true;
}

bool ledger_changed(struct ledger *ledger, int64_t *seen, bool *ret_changed, struct err *err)
{
    int64_t version = 0;
    if (!data_version(ledger, &version, err))
        return false;
    /* The version is of what others wrote; what was written here is counted. */
    version = (int64_t)((uint64_t)version << 32 | (uint32_t)sqlite3_total_changes(ledger->db));
    compare(version, seen, ret_changed);
    return true;
}

int64_t ledger_commits(const struct ledger *ledger)
{
    return ledger->commits;
}

const struct clock *ledger_clock(const struct ledger *ledger)
{
    return &ledger->clock;
}

const char *ledger_path(const struct ledger *ledger)
{
    return ledger->path;
}
