/* The ids that were acknowledged, outside the ledger. A record counts for the sorter once its
 * commit has returned, and is then in the WAL on the disk. But where one bit of the WAL is wrong,
 * SQLite takes its end to be there when it recovers it after a crash, and all that follows is gone
 * without a word. So the last id that the station gave is written into a file beside the ledger as
 * well, after each commit; it is not synced, for it must not cost a key any time, and a program
 * that is killed loses nothing that it wrote. A ledger whose last id is behind it has lost what is
 * between.
 *
 * The loss is then noted in that file, and said at each opening until somebody has seen it on
 * screen: the fish must be judged again. The file is never what anything hangs on: where it cannot
 * be written, read or understood, there is no such news. */
#include "private.h"
#include "query.h"
#include "senbetsu/base/beside.h"
#include "senbetsu/base/text.h"

#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <xxhash.h>

/* Ids are the station's, so each holds its number (docs/decisions/stations.md). */
struct mark {
    int64_t last; /* that was acknowledged */
    int64_t from; /* lost from this id on, 0 = nothing */
    int64_t to;   /* to this one */
};

enum { MARK_SIZE = 80, LINE_SIZE = 192 };
#define MARK_FORMAT "%019" PRId64 " %019" PRId64 " %019" PRId64

/* One line of MARK_SIZE bytes, the numbers and their checksum. */
static void mark_text(const struct mark *mark, char ret[LINE_SIZE])
{
    char numbers[LINE_SIZE / 2];
    int length = snprintf(numbers, sizeof numbers, MARK_FORMAT, mark->last, mark->from, mark->to);
    snprintf(ret, LINE_SIZE, "%s %016" PRIx64 "   \n", numbers,
             (uint64_t)XXH3_64bits(numbers, (size_t)length));
}

static bool mark_read(int file, struct mark *ret)
{
    char found[LINE_SIZE] = "", expected[LINE_SIZE];
    struct mark mark;
    if (pread(file, found, MARK_SIZE, 0) != MARK_SIZE ||
        sscanf(found, "%" SCNd64 " %" SCNd64 " %" SCNd64, &mark.last, &mark.from, &mark.to) != 3)
        return false;
    mark_text(&mark, expected);
    if (strcmp(found, expected) != 0)
        return false;
    *ret = mark;
    return true;
}

static void mark_write(int file, const struct mark *mark)
{
    char line[LINE_SIZE];
    mark_text(mark, line);
    ssize_t written = pwrite(file, line, MARK_SIZE, 0);
    (void)written;
}

static int64_t station_of(int64_t id)
{
    return id >> 32;
}

/* Where the station's judging stands in the ledger: what comes after it is missing. */
static bool add_latest(struct ledger *ledger, int64_t station, struct text *out, struct err *err)
{
    char day[DATE_SIZE], time[TIME_OF_DAY_SIZE];
    struct query query = query_with(ledger, SQL_STATION_LATEST, station << 32);
    if (query_step(&query)) {
        const char *title = row_text_in_place(&query);
        int64_t at_ms = row_instant(&query);
        date_of_instant(at_ms, ledger->clock.offset_minutes, day);
        time_of_instant(at_ms, ledger->clock.offset_minutes, time);
        text_addf(out, "; the last one there is of %s, from %s on %s", title, time, day);
    }
    return query_end(&query, err);
}

static bool say_lost(struct ledger *ledger, const struct mark *mark, struct err *err)
{
    struct text latest;
    text_init(&latest);
    bool known = add_latest(ledger, station_of(mark->from), &latest, err);
    int64_t count = mark->to - mark->from + 1;
    if (known)
        ledger_notice(ledger,
                      "After a crash up to %" PRId64 " record%s that had been acknowledged %s "
                      "missing%s: compare with your bowls, and judge again what is not there.",
                      count, count == 1 ? "" : "s", count == 1 ? "is" : "are", latest.data);
    text_done(&latest);
    return known;
}

static int open_mark(const struct ledger *ledger)
{
    struct stat about;
    struct text path;
    text_init(&path);
    beside_add(&path, sqlite3_db_filename(ledger->db, "main"), BESIDE_ACKNOWLEDGED);
    int file = open(path.data, O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
    /* Whoever may write to the ledger writes here, too. */
    if (file >= 0 && stat(ledger->path, &about) == 0)
        fchmod(file, about.st_mode & 0666);
    text_done(&path);
    return file;
}

bool acknowledged_begin(struct ledger *ledger, struct err *err)
{
    struct mark mark = {0};
    int64_t last = 0;
    ledger->acknowledged = open_mark(ledger);
    bool known = ledger->acknowledged >= 0 && mark_read(ledger->acknowledged, &mark);
    /* Whatever is acknowledged meanwhile is in the ledger before it is in the file. */
    struct query query = query_begin(ledger, SQL_LAST_ID);
    if (!query_single(&query, &last, err))
        return false;
    if (ledger->acknowledged < 0)
        return true;
    struct mark before = mark;
    if (!known || station_of(mark.last) != station_of(last))
        mark = (struct mark){.last = last};
    if (mark.last > last)
        mark = (struct mark){last, mark.from != 0 ? mark.from : last + 1, mark.last};
    if (memcmp(&mark, &before, sizeof mark) != 0)
        mark_write(ledger->acknowledged, &mark);
    return mark.from == 0 || say_lost(ledger, &mark, err);
}

void acknowledged_note(struct ledger *ledger, int64_t id)
{
    struct mark mark;
    if (id == 0 || ledger->acknowledged < 0 || !mark_read(ledger->acknowledged, &mark) ||
        (station_of(mark.last) == station_of(id) && mark.last >= id))
        return;
    mark.last = id;
    mark_write(ledger->acknowledged, &mark);
}

void ledger_notices_seen(struct ledger *ledger)
{
    struct mark mark;
    if (ledger->acknowledged < 0 || !mark_read(ledger->acknowledged, &mark) || mark.from == 0)
        return;
    mark.from = mark.to = 0;
    mark_write(ledger->acknowledged, &mark);
}

void acknowledged_end(struct ledger *ledger)
{
    if (ledger->acknowledged >= 0)
        close(ledger->acknowledged);
}
