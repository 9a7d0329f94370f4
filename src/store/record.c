#include "record.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/parent.h"
#include "senbetsu/core/spawning.h"

#include <string.h>

static const struct table {
    const char *name;
    const struct column *columns;
    int count;
} tables[] = {
    {"parent", parent_columns, PARENT_COLUMN_COUNT},
    {"spawning", spawning_columns, SPAWNING_COLUMN_COUNT},
};

static const char *sql_name(const struct column *column)
{
    return column->sql != NULL ? column->sql : column->name;
}

static bool is_parent(const struct column *column)
{
    return column->kind == COLUMN_DAM || column->kind == COLUMN_SIRE;
}

static void add_read(const struct table *table, const struct column *column, struct text *out)
{
    if (is_parent(column))
        text_addf(out, "(SELECT p.code FROM parent AS p WHERE p.id = %s.%s)", table->name,
                  sql_name(column));
    else if (column->kind == COLUMN_SIRES)
        text_addf(out,
                  "(SELECT group_concat(code, ';') FROM"
                  " (SELECT p.code FROM %s_sire AS ss JOIN parent AS p ON p.id = ss.sire"
                  " WHERE ss.%s = %s.id ORDER BY p.code))",
                  table->name, table->name, table->name);
    else
        text_addf(out, "%s.%s", table->name, sql_name(column));
}

/* `what` is the text between the braces. */
static void add_list(const struct table *table, const char *what, struct text *out)
{
    bool names = strstr(what, " names}") != NULL, values = strstr(what, " values}") != NULL;
    const char *separator = "";
    for (int i = 0; i < table->count; i++) {
        const struct column *column = &table->columns[i];
        if ((names || values) && column->kind == COLUMN_SIRES)
            continue;
        text_add(out, separator);
        separator = ", ";
        if (names)
            text_add(out, sql_name(column));
        else if (values)
            text_add(out, is_parent(column) ? "(SELECT id FROM parent WHERE code = ?)" : "?");
        else
            add_read(table, column, out);
    }
}

char *record_sql(const char *text)
{
    struct text out;
    text_init(&out);
    while (*text != '\0') {
        size_t plain = strcspn(text, "{");
        text_add_bytes(&out, text, plain);
        text += plain;
        if (*text == '\0')
            break;
        const char *what = text + 1;
        text = strchr(what, '}') + 1;
        char list[32];
        text_copy(list, (size_t)(text - what) + 1, what);
        for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
            if (strncmp(list, tables[i].name, strcspn(list, " }")) == 0)
                add_list(&tables[i], list, &out);
    }
    return out.data;
}

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
    query_begin(&query, ledger, SQL_AMENDMENT_ADD);
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
