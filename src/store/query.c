/* Running the statements of the registry. This is the one place that knows how SQLite binds and
 * steps; all others say what they ask for and how a row is read. The texts in the registry are
 * static but for the lists of a record's columns, which would stand in each statement of a record
 * four times: those come from its table. */
#include "query.h"

#include "connection.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/parent.h"
#include "senbetsu/core/spawning.h"
#include "senbetsu/core/variety.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

static const struct table {
    const char *name;
    const struct column *columns;
    int count;
} tables[] = {
    {"parent", parent_columns, PARENT_COLUMN_COUNT},
    {"spawning", spawning_columns, SPAWNING_COLUMN_COUNT},
    {"variety", variety_columns, VARIETY_COLUMN_COUNT},
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
        text_addf(out, "(SELECT p.code FROM live_parent AS p WHERE p.id = %s.%s)", table->name,
                  sql_name(column));
    else if (column->kind == COLUMN_SIRES)
        text_addf(out,
                  "(SELECT group_concat(code, ';') FROM"
                  " (SELECT p.code FROM %s_sire AS ss JOIN live_parent AS p ON p.id = ss.sire"
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
            text_add(out, is_parent(column) ? "(SELECT id FROM live_parent WHERE code = ?)" : "?");
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

struct query query_begin(struct ledger *ledger, enum sql sql)
{
    struct query query = {.ledger = ledger, .code = SQLITE_OK};
    sqlite3_stmt **cached = &ledger->statements[sql];
    if (*cached == NULL) {
        char *text = record_sql(sql_texts[sql]);
        query.code =
            sqlite3_prepare_v3(ledger->db, text, -1, SQLITE_PREPARE_PERSISTENT, cached, NULL);
        free(text);
    }
    query.statement = *cached;
    assert(query.statement == NULL || !sqlite3_stmt_busy(query.statement));
    return query;
}

struct query query_with(struct ledger *ledger, enum sql sql, int64_t number)
{
    struct query query = query_begin(ledger, sql);
    query_number(&query, number);
    return query;
}

/* The first failure is the cause; whatever fails after it only follows from it. */
static void keep_first_failure(struct query *query, int code)
{
    if (query->code == SQLITE_OK)
        query->code = code;
}

void query_number(struct query *query, int64_t number)
{
    keep_first_failure(query, sqlite3_bind_int64(query->statement, ++query->bound, number));
}

void query_number_or_null(struct query *query, int64_t number, int64_t absent)
{
    if (number != absent)
        query_number(query, number);
    else
        query->bound++;
}

void query_text(struct query *query, const char *text)
{
    keep_first_failure(
        query, sqlite3_bind_text(query->statement, ++query->bound, text, -1, SQLITE_STATIC));
}

void query_text_or_null(struct query *query, const char *text)
{
    if (*text != '\0')
        query_text(query, text);
    else
        query->bound++;
}

void query_bytes(struct query *query, const void *bytes, size_t size)
{
    keep_first_failure(query, sqlite3_bind_blob(query->statement, ++query->bound, bytes, (int)size,
                                                SQLITE_STATIC));
}

/* In the ledger a text that is not known is empty; a word, a day, a number or a variety that is not
 * is NULL. */
void query_record(struct query *query, const struct column *columns, int count, const void *record)
{
    for (int i = 0; i < count; i++) {
        const struct column *column = &columns[i];
        char unused[CODES_SIZE];
        if (column->kind == COLUMN_SIRES)
            continue;
        if (column->kind == COLUMN_TERM || column->kind == COLUMN_DAY ||
            column->kind == COLUMN_VARIETY)
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

bool query_step(struct query *query)
{
    if (query->code != SQLITE_OK && query->code != SQLITE_ROW)
        return false;
    query->code = sqlite3_step(query->statement);
    query->column = 0;
    return query->code == SQLITE_ROW;
}

int64_t row_number(struct query *query)
{
    return sqlite3_column_int64(query->statement, query->column++);
}

int64_t row_number_or(struct query *query, int64_t absent)
{
    bool null = sqlite3_column_type(query->statement, query->column) == SQLITE_NULL;
    int64_t number = row_number(query);
    return null ? absent : number;
}

const char *row_text_or_null(struct query *query)
{
    return (const char *)sqlite3_column_text(query->statement, query->column++);
}

const char *row_text_in_place(struct query *query)
{
    const char *text = row_text_or_null(query);
    return text == NULL ? "" : text;
}

void row_text(struct query *query, char *buffer, size_t size)
{
    text_copy(buffer, size, row_text_in_place(query));
}

int row_word(struct query *query, const struct term *terms, int count)
{
    int index = term_find(terms, count, row_text_in_place(query));
    return index < 0 ? 0 : index;
}

void row_sentence(struct query *query, const char *format, struct text *out)
{
    for (const char *at = format; *at != '\0'; at += *at == '%') {
        size_t plain = strcspn(at, "%");
        text_add_bytes(out, at, plain);
        at += plain;
        if (*at == '%')
            text_add(out, row_text_in_place(query));
    }
}

/* The statement is reset even after a failure, and its bindings go: they may point to memory that
 * is about to be freed. */
bool query_end(struct query *query, struct err *err)
{
    int code = query->code;
    bool fine = code == SQLITE_OK || code == SQLITE_ROW || code == SQLITE_DONE;
    if (!fine)
        sqlite_error(query->ledger->path, code, sqlite3_errmsg(query->ledger->db), err);
    if (query->statement != NULL) {
        sqlite3_reset(query->statement);
        sqlite3_clear_bindings(query->statement);
    }
    return fine;
}

bool query_run(struct query *query, struct err *err)
{
    while (query_step(query))
        ;
    return query_end(query, err);
}

bool query_single(struct query *query, int64_t *ret_number, struct err *err)
{
    if (query_step(query))
        *ret_number = row_number_or(query, *ret_number);
    return query_end(query, err);
}

bool query_list(struct query *query, void *items, size_t count, void *ret_items, size_t *ret_count,
                struct err *err)
{
    if (!query_end(query, err)) {
        free(items);
        return false;
    }
    memcpy(ret_items, &items, sizeof items);
    *ret_count = count;
    return true;
}

bool query_row(struct query *query, row_reader *read, void *ret_item, const char *absent,
               struct err *err)
{
    bool found = query_step(query);
    if (found)
        read(query, ret_item);
    return query_end(query, err) &&
           (found || absent == NULL || err_set(err, ERR_ABSENT, "%s", absent));
}

bool query_rows(struct query *query, row_reader *read, size_t size, void *ret_items,
                size_t *ret_count, struct err *err)
{
    char *items = NULL;
    size_t count = 0, capacity = 0;
    while (query_step(query)) {
        items = alloc_room(items, count, &capacity, size);
        read(query, items + size * count++);
    }
    return query_list(query, items, count, ret_items, ret_count, err);
}

static void read_number(struct query *query, void *ret_item)
{
    *(int64_t *)ret_item = row_number(query);
}

bool query_numbers(struct query *query, int64_t **ret, size_t *ret_count, struct err *err)
{
    return query_rows(query, read_number, sizeof **ret, ret, ret_count, err);
}

void queries_done(struct ledger *ledger)
{
    for (int sql = 0; sql < SQL_COUNT; sql++) {
        sqlite3_finalize(ledger->statements[sql]);
        ledger->statements[sql] = NULL;
    }
}
