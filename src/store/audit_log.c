/* Writing the audit log. What is compared and how it is written out comes from the record's table
 * of columns, so that a new field of a record is in the log by itself; the value as the ledger has
 * it is read from the record (RECORDED_VALUE in statements.c). */
#include "audit_log.h"

/* `was` NULL: it began so. */
bool audit_log_add_at(struct ledger *ledger, const struct change *change, const char *column,
                      const char *was, const char *becomes, int64_t at_ms, struct err *err)
{
    int64_t id;
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_AUDIT_LOG_ADD, id);
    query_text(&query, change->table);
    query_number(&query, change->record);
    query_text(&query, column);
    query_text(&query, was);
    query_text(&query, becomes);
    query_number(&query, at_ms);
    query_number_or_null(&query, change->judge, 0);
    query_text(&query, change->why == NULL ? "" : change->why);
    return query_run(&query, err);
}

bool audit_log_add(struct ledger *ledger, const struct change *change, const char *column,
                   const char *was, const char *becomes, struct err *err)
{
    return audit_log_add_at(ledger, change, column, was, becomes, clock_now(&ledger->clock), err);
}

bool audit_log_begin(struct ledger *ledger, const struct change *change, const char *column,
                     const char *begins, struct err *err)
{
    return begins[0] == '\0' || audit_log_add(ledger, change, column, NULL, begins, err);
}

bool audit_log_begin_record(struct ledger *ledger, const struct change *change,
                            const struct column *columns, int count, const void *record,
                            struct err *err)
{
    char begins[CODES_SIZE];
    for (int i = 0; i < count; i++)
        if (!audit_log_begin(ledger, change, columns[i].name,
                             column_text(&columns[i], record, begins), err))
            return false;
    return true;
}

bool audit_log_compare(struct ledger *ledger, const struct change *change,
                       const struct column *columns, int count, const void *was,
                       const void *becomes, struct err *err)
{
    char from[CODES_SIZE], to[CODES_SIZE];
    for (int i = 0; i < count; i++)
        if (!column_equal(&columns[i], was, becomes) &&
            !audit_log_add(ledger, change, columns[i].name, column_text(&columns[i], was, from),
                           column_text(&columns[i], becomes, to), err))
            return false;
    return true;
}
