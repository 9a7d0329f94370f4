/* Upgrading a ledger's layout. All steps run in one transaction with the version and a row about
 * each step, so that an upgrade happens whole or not at all; the checksums in those rows show a
 * step that was edited after it was released. */
#include "migrations.h"

#include "connection.h"
#include "query.h"

#include <stdio.h>
#include <string.h>

bool migrate_version(struct ledger *ledger, int *ret, struct err *err)
{
    return connection_number(ledger->db, ledger->path, "PRAGMA user_version", ret, err);
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

bool migrate_check(struct ledger *ledger, const struct migration *steps, int count, struct err *err)
{
    char checksum[65];
    int edited = 0;
    struct query query = query_begin(ledger, SQL_MIGRATION_LIST);
    while (query_step(&query)) {
        int version = (int)row_number(&query);
        row_text(&query, checksum, sizeof checksum);
        if (version <= count && strcmp(checksum, steps[version - 1].checksum) != 0)
            edited = version;
    }
    if (!query_end(&query, err))
        return false;
    return edited == 0 || err_set(err, ERR_LEDGER,
                                  "The ledger was made with another migration %d than this "
                                  "program has; use the senbetsu that made it: %s.",
                                  edited, ledger->path);
}
