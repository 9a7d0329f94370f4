/* Upgrading a ledger's layout. All steps run in one transaction with the version and a row about
 * each step, so that an upgrade happens whole or not at all; the checksums in those rows show a
 * step that was edited after it was released.
 *
 * A ledger comes from anywhere. That its tables are those of this program is held before the first
 * statement counts on them. */
#include "migrations.h"

#include "connection.h"
#include "query.h"
#include "senbetsu/base/text.h"

#include <stdio.h>
#include <string.h>

bool migrate_version(struct ledger *ledger, int *ret, struct err *err)
{
    int version;
    if (!connection_number(ledger->db, ledger->path, "PRAGMA user_version", &version, err))
        return false;
    if (version < 0) {
        sqlite_error(ledger->path, SQLITE_CORRUPT, "", err);
        return false;
    }
    *ret = version;
    return true;
}

static bool run(struct ledger *ledger, const char *sql, struct err *err)
{
    return connection_run(ledger->db, ledger->path, sql, err);
}

static bool set_pragma(struct ledger *ledger, const char *name, int value, struct err *err)
{
    char sql[80];
    snprintf(sql, sizeof sql, "PRAGMA %s = %d", name, value);
    return run(ledger, sql, err);
}

static bool take_step(struct ledger *ledger, const struct migration *step, struct err *err)
{
    if (!run(ledger, step->sql, err))
        return false;
    struct query query = query_with(ledger, SQL_MIGRATION_ADD, step->version);
    query_text(&query, step->name);
    query_text(&query, step->checksum);
    query_number(&query, clock_now(&ledger->clock));
    query_text(&query, SENBETSU_VERSION);
    return query_run(&query, err);
}

/* A step that rebuilt a table may have left rows that point nowhere. */
static bool check_references(struct ledger *ledger, struct err *err)
{
    struct query query = query_begin(ledger, SQL_DANGLING_RECORDS);
    bool dangling = query_step(&query);
    if (!query_end(&query, err))
        return false;
    return !dangling ||
           err_set(err, ERR_LEDGER,
                   "The ledger could not be upgraded, for records of it refer to records "
                   "that are missing: %s.",
                   ledger->path);
}

static bool take_steps(struct ledger *ledger, const struct migration *steps, int count,
                       struct err *err)
{
    int version;
    /* Again, now that nobody else can write: another program may have been quicker. */
    if (!migrate_version(ledger, &version, err))
        return false;
    for (int i = version; i < count; i++)
        if (!take_step(ledger, &steps[i], err))
            return false;
    if (version >= count)
        return true;
    return check_references(ledger, err) &&
           set_pragma(ledger, "application_id", LEDGER_APPLICATION_ID, err) &&
           set_pragma(ledger, "user_version", count, err);
}

bool migrate(struct ledger *ledger, const struct migration *steps, int count, struct err *err)
{
    /* Rebuilding a table that others refer to needs this off, and it can only be set outside. */
    if (!run(ledger, "PRAGMA foreign_keys = OFF", err))
        return false;
    bool done = transaction_begin(ledger, err) &&
                transaction_end(ledger, take_steps(ledger, steps, count, err), err);
    return run(ledger, "PRAGMA foreign_keys = ON", done ? err : NULL) && done;
}

static bool say_damaged(const struct ledger *ledger, struct err *err)
{
    return err_set(
        err, ERR_DAMAGE,
        "The ledger is damaged, its tables differ; restore your latest backup in place of %s.",
        ledger->path);
}

static bool check_steps(struct ledger *ledger, const struct migration *steps, int version,
                        struct err *err)
{
    char checksum[65];
    int taken = 0, edited = 0;
    bool in_turn = true;
    struct query query = query_begin(ledger, SQL_MIGRATION_LIST);
    while (query_step(&query)) {
        int64_t number = row_between(&query, INT64_MIN, INT64_MAX);
        in_turn = in_turn && number == taken + 1 && taken < version;
        row_text(&query, checksum, sizeof checksum);
        if (in_turn && strcmp(checksum, steps[taken++].checksum) != 0)
            edited = taken;
    }
    if (!query_end(&query, err))
        return false;
    if (edited != 0)
        return err_set(err, ERR_LEDGER,
                       "The ledger was made with another migration %d than this program has; use "
                       "the senbetsu that made it: %s.",
                       edited, ledger->path);
    return (in_turn && taken == version) || say_damaged(ledger, err);
}

/* As migrations/embed.py adds it up. */
static void add_schema(struct query *query, struct text *out)
{
    while (query_step(query)) {
        for (int column = 0; column < 4; column++)
            text_addf(out, "%s%s", column == 0 ? "" : "\x1f", row_text_in_place(query));
        text_add(out, "\x1e");
    }
}

/* A table with another column, a rule that is gone or an index that is missing would not be found
 * by looking at values. */
static bool check_schema(struct ledger *ledger, const char *expected, struct err *err)
{
    struct text found;
    text_init(&found);
    struct query query = query_begin(ledger, SQL_SCHEMA);
    add_schema(&query, &found);
    bool same = strcmp(found.data, expected) == 0;
    text_done(&found);
    return query_end(&query, err) && (same || say_damaged(ledger, err));
}

bool migrate_check(struct ledger *ledger, const struct migration *steps, int version,
                   struct err *err)
{
    const char *schema = version == 0 ? "" : steps[version - 1].schema;
    return (schema == NULL || check_schema(ledger, schema, err)) &&
           (version == 0 || check_steps(ledger, steps, version, err));
}
