/* Joining. What two stations recorded are sets of rows that are never changed and whose ids tell
 * them apart; what a join makes of them is their union, and what stands of the records is worked
 * out from it anew (settle.c). So it does not matter who joins whom, in what order or how often
 * (docs/decisions/stations.md). */
#include "senbetsu/store/join.h"

#include "derived.h"
#include "guest.h"
#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "settle.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

const char *const joined_words[JOINED_KINDS][2] = {
    [JOINED_VARIETIES] = {"variety", "varieties"},
    [JOINED_PARENTS] = {"parent", "parents"},
    [JOINED_SPAWNINGS] = {"spawning", "spawnings"},
    [JOINED_LOTS] = {"lot", "lots"},
    [JOINED_EVENTS] = {"event of lots", "events of lots"},
    [JOINED_ROUNDS] = {"cull", "culls"},
    [JOINED_COUNTS] = {"count of a cull", "counts of culls"},
    [JOINED_BOWLS] = {"bowl", "bowls"},
    [JOINED_FISH] = {"fish", "fish"},
    [JOINED_STROKES] = {"key at the bowls", "keys at the bowls"},
    [JOINED_PASSES] = {"pass", "passes"},
    [JOINED_STANDARDS] = {"version of a standard", "versions of standards"},
    [JOINED_JUDGES] = {"judge", "judges"},
    [JOINED_CHANGES] = {"change of a record", "changes of records"},
};

enum { NOWHERE = -1 };

/* The tables, each after those that it belongs to. */
static const struct united {
    const char *name;
    enum sql read, has, unite;
    enum joined kind; /* JOINED_KINDS: comes with others */
    int id, at_ms;    /* columns of what is read; NOWHERE = no station's, no instant */
} tables[] = {
#define UNITED(NAME) SQL_READ_##NAME, SQL_HAS_##NAME, SQL_UNITE_##NAME
    {"station", UNITED(STATION), JOINED_KINDS, NOWHERE, NOWHERE},
    {"standard", UNITED(STANDARD), JOINED_STANDARDS, NOWHERE, NOWHERE},
    {"standard", UNITED(STANDARD_ITEM), JOINED_KINDS, NOWHERE, NOWHERE},
    {"judge", UNITED(JUDGE), JOINED_JUDGES, NOWHERE, NOWHERE},
    {"variety", UNITED(VARIETY), JOINED_VARIETIES, NOWHERE, NOWHERE},
    {"parent", UNITED(PARENT), JOINED_PARENTS, NOWHERE, NOWHERE},
    {"spawning", UNITED(SPAWNING), JOINED_SPAWNINGS, NOWHERE, NOWHERE},
    {"lot", UNITED(LOT), JOINED_LOTS, NOWHERE, NOWHERE},
    {"lot", UNITED(LOT_SOURCE), JOINED_KINDS, NOWHERE, NOWHERE},
    {"cull", UNITED(ROUND), JOINED_ROUNDS, NOWHERE, NOWHERE},
    {"bowl", UNITED(BOWL), JOINED_BOWLS, 0, NOWHERE},
    {"fish", UNITED(FISH), JOINED_FISH, 0, NOWHERE},
    {"key", UNITED(STROKE), JOINED_STROKES, 0, 7},
    {"pass", UNITED(PASS), JOINED_PASSES, 0, 7},
    {"pass", UNITED(DECISION_REASON), JOINED_KINDS, NOWHERE, NOWHERE},
    {"pass", UNITED(DECISION), JOINED_KINDS, NOWHERE, NOWHERE},
    {"count", UNITED(ROUND_COUNT), JOINED_COUNTS, 3, 2},
    {"count", UNITED(REJECT_FATE), JOINED_COUNTS, 3, 2},
    {"scoop", UNITED(SCOOP), JOINED_KINDS, 0, 6},
    {"key", UNITED(TALLY), JOINED_STROKES, 0, 6},
    {"key", UNITED(FIRST_LOOK), JOINED_STROKES, 0, 4},
    {"event", UNITED(LOT_EVENT), JOINED_EVENTS, 0, 12},
    {"entry of the audit log", UNITED(AUDIT_LOG), JOINED_CHANGES, 0, 8},
#undef UNITED
};

static struct joined_station *station_in(struct join *join, int64_t number)
{
    for (size_t i = 0; i < join->station_count; i++)
        if (join->stations[i].number == number)
            return &join->stations[i];
    join->stations = alloc_resized(join->stations, join->station_count + 1, sizeof *join->stations);
    struct joined_station *station = &join->stations[join->station_count++];
    *station = (struct joined_station){.number = number};
    return station;
}

static int64_t number_at(const struct query *row, int column)
{
    return column == NOWHERE ? 0 : sqlite3_column_int64(row->statement, column);
}

/* What a record began with is no change of it. */
static bool is_beginning(const struct united *table, const struct query *row)
{
    enum { OLD_VALUE = 4 };
    return table->kind == JOINED_CHANGES &&
           sqlite3_column_type(row->statement, OLD_VALUE) == SQLITE_NULL;
}

/* Notes a row that came, and whose it is. */
static void count_row(struct join *join, const struct united *table, const struct query *row)
{
    int64_t id = number_at(row, table->id), at_ms = number_at(row, table->at_ms);
    join->rows++;
    if (table->kind != JOINED_KINDS && !is_beginning(table, row))
        join->added[table->kind]++;
    if (id == 0)
        return;
    struct joined_station *station = station_in(join, id >> 32);
    station->rows++;
    if (at_ms != 0 && (station->first_ms == 0 || at_ms < station->first_ms))
        station->first_ms = at_ms;
    if (at_ms > station->last_ms)
        station->last_ms = at_ms;
}

static bool has(struct ledger *ledger, enum sql sql, const struct query *row, bool *ret_has,
                struct err *err)
{
    int64_t found = 0;
    struct query query = query_begin(ledger, sql);
    query_row_of(&query, row);
    if (!query_single(&query, &found, err))
        return false;
    *ret_has = found != 0;
    return true;
}

/* Is there a row of this id, whatever stands in it? Only of those that a join may complete. */
static bool is_known(struct ledger *ledger, const struct united *table, const struct query *row,
                     bool *ret_known, struct err *err)
{
    *ret_known = false;
    return table->unite != SQL_UNITE_STANDARD || has(ledger, SQL_ID_TAKEN, row, ret_known, err);
}

static bool refuse(const struct united *table, const char *path, struct err *err)
{
    return err_set(err, ERR_LEDGER,
                   "The two ledgers have one %s that differs: one of them is damaged, or a station "
                   "went on in two places: %s.",
                   table->name, path);
}

static bool unite_row(struct ledger *ledger, const struct united *table, const struct query *row,
                      const char *path, struct join *join, struct err *err)
{
    bool here = false, known;
    if (!has(ledger, table->has, row, &here, err) || here)
        return here;
    if (!is_known(ledger, table, row, &known, err))
        return false;
    struct query query = query_begin(ledger, table->unite);
    query_row_of(&query, row);
    if (!query_run(&query, err))
        return false;
    if (sqlite3_changes(ledger->db) == 0)
        return refuse(table, path, err);
    if (!known && table->unite != SQL_UNITE_STATION)
        count_row(join, table, row);
    return true;
}

static bool unite(struct ledger *ledger, const struct guest *guest, struct join *join,
                  struct err *err)
{
    const char *path = guest->ledger->path;
    bool fine = true;
    for (size_t i = 0; fine && i < sizeof tables / sizeof *tables; i++) {
        struct query row = query_begin(guest->ledger, tables[i].read);
        while (fine && query_step(&row))
            fine = unite_row(ledger, &tables[i], &row, path, join, err);
        fine = query_end(&row, fine ? err : NULL) && fine;
    }
    return fine;
}

static bool name_stations(struct ledger *ledger, struct join *join, struct err *err)
{
    struct station *stations;
    size_t count;
    if (!station_list(ledger, &stations, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < join->station_count; j++)
            if (join->stations[j].number == stations[i].number)
                text_copy(join->stations[j].name, sizeof join->stations[j].name, stations[i].name);
    free(stations);
    return true;
}

/* Rows may come before those that they belong to: that all are there is looked at in the end. */
static bool run_join(struct ledger *ledger, const struct guest *guest, struct join *join,
                     struct err *err)
{
    struct query query = query_begin(ledger, SQL_DEFER_FOREIGN_KEYS);
    return query_run(&query, err) && unite(ledger, guest, join, err) &&
           records_settle(ledger, err) && derived_rebuild(ledger, err) &&
           name_stations(ledger, join, err) &&
           difference_list(ledger, &join->differences, &join->difference_count, err) &&
           clash_list(ledger, &join->clashes, &join->clash_count, err);
}

static int64_t ahead(const struct ledger *ledger, const struct join *join)
{
    enum { A_MINUTE = 60 * 1000 };
    int64_t latest = 0, now = clock_now(&ledger->clock);
    for (size_t i = 0; i < join->station_count; i++)
        if (join->stations[i].last_ms > latest)
            latest = join->stations[i].last_ms;
    return latest > now + A_MINUTE ? latest - now : 0;
}

static bool keep_copy(struct ledger *ledger, struct join *join, struct err *err)
{
    char stamp[STAMP_SIZE];
    stamp_now(&ledger->clock, stamp);
    return copy_beside(ledger, BESIDE_BEFORE_JOIN, stamp, join->before, sizeof join->before, err);
}

bool ledger_join_at(struct ledger *ledger, const char *path, bool preview,
                    const struct migration *steps, int count, struct join *ret, struct err *err)
{
    struct guest guest;
    struct join join = {.rows = 0};
    bool fine = guest_open(&guest, ledger, path, steps, count, err) &&
                (preview || keep_copy(ledger, &join, err)) && transaction_begin(ledger, err);
    if (fine) {
        fine = run_join(ledger, &guest, &join, err);
        if (preview && fine)
            transaction_rollback(ledger);
        else
            fine = transaction_end(ledger, fine, err);
    }
    /* Joining often must not fill the folder with copies of the same. */
    if (fine && join.rows == 0 && join.before[0] != '\0') {
        unlink(join.before);
        join.before[0] = '\0';
    }
    if (fine) {
        join.layout = guest.version < count ? guest.version : 0;
        join.ahead_ms = ahead(ledger, &join);
        *ret = join;
    } else {
        join_done(&join);
    }
    guest_done(&guest);
    return fine;
}

bool ledger_join(struct ledger *ledger, const char *path, bool preview, struct join *ret,
                 struct err *err)
{
    return ledger_join_at(ledger, path, preview, migrations, migration_count, ret, err);
}

void join_done(struct join *join)
{
    free(join->stations);
    free(join->differences);
    clashes_free(join->clashes, join->clash_count);
    *join = (struct join){.rows = 0};
}
