/* Spawnings in the ledger, with their sires (a table of their own) and the lot that each begins
 * as. */
#include "senbetsu/store/spawnings.h"
#include "audit_log.h"
#include "lots.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/names.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/varieties.h"

static void read_spawning(struct query *query, void *ret_item)
{
    struct spawning *ret = ret_item;
    *ret = (struct spawning){.id = row_id(query)};
    row_record(query, spawning_columns, SPAWNING_COLUMN_COUNT, ret);
}

static bool find(struct ledger *ledger, const char *code, struct spawning *ret, struct err *err)
{
    *ret = (struct spawning){.id = 0};
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, ret);
    struct query query = query_begin(ledger, SQL_SPAWNING_NAMED);
    query_text(&query, code);
    return query_row(&query, read_spawning, ret, NULL, err);
}

bool spawning_get(struct ledger *ledger, const char *code, struct spawning *ret, struct err *err)
{
    struct spawning spawning;
    if (!find(ledger, code, &spawning, err))
        return false;
    if (spawning.id == 0)
        return err_set(err, ERR_ABSENT, "There is no spawning %s in the ledger.", code);
    *ret = spawning;
    return true;
}

bool spawning_list(struct ledger *ledger, struct spawning **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_begin(ledger, SQL_SPAWNING_LIST);
    return query_rows(&query, read_spawning, sizeof **ret, ret, ret_count, err);
}

/* That they are in the ledger and can be what they are said to be. */
static bool check_parents(struct ledger *ledger, const struct spawning *spawning, struct err *err)
{
    char sire[CODE_SIZE];
    if (spawning->dam[0] != '\0' && !parent_serves(ledger, spawning->dam, true, err))
        return false;
    for (const char *list = spawning->sires; code_next(&list, sire);)
        if (!parent_serves(ledger, sire, false, err))
            return false;
    return true;
}

static bool store(struct ledger *ledger, enum sql sql, const struct spawning *spawning,
                  struct err *err)
{
    char sire[CODE_SIZE];
    struct query query = query_with(ledger, sql, spawning->id);
    query_record(&query, spawning_columns, SPAWNING_COLUMN_COUNT, spawning);
    bool fine = query_run(&query, err);
    if (fine) {
        query = query_with(ledger, SQL_SIRES_CLEAR, spawning->id);
        fine = query_run(&query, err);
    }
    for (const char *list = spawning->sires; fine && code_next(&list, sire);) {
        query = query_with(ledger, SQL_SIRE_ADD, spawning->id);
        query_text(&query, sire);
        fine = query_run(&query, err);
    }
    return fine;
}

/* A new spawning and the lot it begins as are written together: no spawning is ever without a lot.
 */
static bool add(struct ledger *ledger, struct spawning *spawning, int64_t judge, const char *why,
                struct err *err)
{
    int64_t lot;
    if (!office_id(ledger, "spawning", spawning->code, &spawning->id, err))
        return false;
    struct change about = {"spawning", spawning->id, judge, why};
    return store(ledger, SQL_SPAWNING_ADD, spawning, err) &&
           audit_log_begin_record(ledger, &about, spawning_columns, SPAWNING_COLUMN_COUNT, spawning,
                                  err) &&
           lot_add(ledger, spawning->id, spawning->code, true, &lot, err);
}

static bool save(struct ledger *ledger, const struct spawning *said, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err)
{
    struct spawning known, spawning = *said;
    int column;
    if (!code_check(said->code, "The spawning's code", err) ||
        !find(ledger, said->code, &known, err))
        return false;
    spawning_merge(&known, &spawning);
    if (!spawning_check(&spawning, &column, err) ||
        !variety_settle(ledger, spawning.variety, err) || !check_parents(ledger, &spawning, err))
        return false;
    if (known.id == 0) {
        *ret_saved = SAVED_NEW;
        return add(ledger, &spawning, judge, why, err);
    }
    struct change change = {"spawning", known.id, judge, why};
    bool same = columns_equal(spawning_columns, SPAWNING_COLUMN_COUNT, &known, &spawning);
    *ret_saved = same ? SAVED_SAME : SAVED_CHANGED;
    return same || (store(ledger, SQL_SPAWNING_CHANGE, &spawning, err) &&
                    audit_log_compare(ledger, &change, spawning_columns, SPAWNING_COLUMN_COUNT,
                                      &known, &spawning, err));
}

/* As the caller says it, what is unknown in it as well. */
static bool change(struct ledger *ledger, const char *code, const struct spawning *said,
                   int64_t judge, const char *why, enum saved *ret_saved, struct err *err)
{
    struct spawning known = {0}, spawning = *said, nothing = {0};
    int column;
    if (!spawning_get(ledger, code, &known, err) ||
        !record_rename(ledger, RECORD_SPAWNING, known.id, said->code, judge, why, err))
        return false;
    bool same = columns_equal(spawning_columns, SPAWNING_COLUMN_COUNT, &known, said);
    text_copy(known.code, sizeof known.code, said->code);
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, &nothing);
    spawning_merge(&nothing, &spawning);
    spawning.id = known.id;
    struct change about = {"spawning", known.id, judge, why};
    *ret_saved = same ? SAVED_SAME : SAVED_CHANGED;
    return spawning_check(&spawning, &column, err) &&
           variety_settle(ledger, spawning.variety, err) && check_parents(ledger, &spawning, err) &&
           store(ledger, SQL_SPAWNING_CHANGE, &spawning, err) &&
           audit_log_compare(ledger, &about, spawning_columns, SPAWNING_COLUMN_COUNT, &known,
                             &spawning, err);
}

bool spawning_change(struct ledger *ledger, const char *code, const struct spawning *spawning,
                     int64_t judge, const char *why, enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, change(ledger, code, spawning, judge, why, ret_saved, err), err);
}

bool spawning_save(struct ledger *ledger, const struct spawning *spawning, int64_t judge,
                   const char *why, enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, save(ledger, spawning, judge, why, ret_saved, err), err);
}
