/* Records of the ledger, read, bound and compared column by column. */
#include "record.h"

/* In the ledger a text that is not known is empty; a word, a day or a number that is not is NULL.
 */
void query_record(struct query *query, const struct column *columns, int count, const void *record)
{
    for (int i = 0; i < count; i++) {
        const struct column *column = &columns[i];
        char unused[CODES_SIZE];
        if (column->kind == COLUMN_SIRES)
            continue;
        if (column->kind == COLUMN_TERM || column->kind == COLUMN_DAY)
            query_text_or_null(query, column_text(column, record, unused));
        else if (column_is_text(column))
            query_text(query, column_text(column, record, unused));
        else
            query_number_or_null(query, column_number(column, record), column->unknown);
    }
}

void row_record(struct query *query, const struct column *columns, int count, void *record)
{
    for (int i = 0; i < count; i++) {
        const struct column *column = &columns[i];
        if (column->kind == COLUMN_TERM)
            column_set_number(column, record, row_word(query, column->terms, column->term_count));
        else if (column_is_text(column))
            row_text(query, (char *)record + column->at, column->size);
        else
            column_set_number(column, record, row_number_or(query, column->unknown));
    }
}

bool audit_log_add(struct ledger *ledger, const struct change *change, const char *column,
                   const char *was, const char *becomes, struct err *err)
{
    int64_t id;
    struct query query;
    if (!new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_AUDIT_LOG_ADD);
    query_number(&query, id);
    query_text(&query, change->table);
    query_number(&query, change->record);
    query_text(&query, column);
    query_text(&query, was);
    query_text(&query, becomes);
    query_number(&query, clock_now(&ledger->clock));
    query_number_or_null(&query, change->judge, 0);
    query_text(&query, change->why == NULL ? "" : change->why);
    return query_run(&query, err);
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
