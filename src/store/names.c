/* Names of records. They are all given anew in one place, so that each is checked, unique among
 * live records, and logged. */
#include "senbetsu/store/names.h"

#include "audit_log.h"

#include <string.h>

static const struct naming {
    const char *table, *field, *what;
    enum sql called, called_so, rename;
} namings[RECORD_KIND_COUNT] = {
    [RECORD_JUDGE] = {"judge", "name", "The judge's name", SQL_JUDGE_CALLED, SQL_JUDGE_CALLED_SO,
                      SQL_JUDGE_RENAME},
    [RECORD_PARENT] = {"parent", "parent", "The parent's code", SQL_PARENT_CALLED,
                       SQL_PARENT_CALLED_SO, SQL_PARENT_RENAME},
    [RECORD_SPAWNING] = {"spawning", "spawning", "The spawning's code", SQL_SPAWNING_CALLED,
                         SQL_SPAWNING_CALLED_SO, SQL_SPAWNING_RENAME},
    [RECORD_LOT] = {"lot", "lot", "The lot's name", SQL_LOT_CALLED, SQL_LOT_CALLED_SO,
                    SQL_LOT_RENAME},
};

static bool set_name(struct ledger *ledger, enum sql sql, int64_t id, const char *name,
                     struct err *err)
{
    struct query query = query_with(ledger, sql, id);
    query_text(&query, name);
    return query_run(&query, err);
}

static bool name_is_free(struct ledger *ledger, const struct naming *naming, int64_t id,
                         const char *name, struct err *err)
{
    int64_t taken = 0;
    struct query query = query_with(ledger, naming->called_so, id);
    query_text(&query, name);
    return query_single(&query, &taken, err) &&
           (!taken || err_set(err, ERR_INPUT, "There is another %s %s; choose another name.",
                              naming->table, name));
}

static bool rename_record(struct ledger *ledger, enum record_kind kind, int64_t id,
                          const char *name, int64_t judge, const char *why, struct err *err)
{
    const struct naming *naming = &namings[kind];
    struct change about = {naming->table, id, judge, why};
    char was[CODE_SIZE] = "";
    if (naming->table == NULL)
        return err_set(err, ERR_INPUT, "This has no name of its own that could be changed.");
    struct query query = query_with(ledger, naming->called, id);
    if (query_step(&query))
        row_text(&query, was, sizeof was);
    if (!query_end(&query, err) || !code_check(name, naming->what, err))
        return false;
    if (was[0] == '\0')
        return err_set(err, ERR_INPUT, "This has no name of its own that could be changed.");
    if (strcmp(was, name) == 0)
        return true;
    return name_is_free(ledger, naming, id, name, err) &&
           set_name(ledger, naming->rename, id, name, err) &&
           (kind != RECORD_SPAWNING || set_name(ledger, SQL_OWN_LOT_RENAME, id, name, err)) &&
           audit_log_add(ledger, &about, naming->field, was, name, err);
}

bool record_rename(struct ledger *ledger, enum record_kind kind, int64_t id, const char *name,
                   int64_t judge, const char *why, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, rename_record(ledger, kind, id, name, judge, why, err), err);
}
