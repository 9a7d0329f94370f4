#include "query.h"
#include "record_sql.h"

#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "sqlite_error.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

void query_begin(struct query *query, struct ledger *ledger, enum sql sql)
{
    *query = (struct query){.ledger = ledger, .code = SQLITE_OK};
    sqlite3_stmt **cached = &ledger->statements[sql];
    if (*cached == NULL) {
        char *text = record_sql(sql_texts[sql]);
        query->code =
            sqlite3_prepare_v3(ledger->db, text, -1, SQLITE_PREPARE_PERSISTENT, cached, NULL);
        free(text);
    }
    query->statement = *cached;
    assert(query->statement == NULL || !sqlite3_stmt_busy(query->statement));
}

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

bool query_numbers(struct query *query, int64_t **ret, size_t *ret_count, struct err *err)
{
    int64_t *numbers = NULL;
    size_t count = 0, capacity = 0;
    while (query_step(query)) {
        numbers = alloc_room(numbers, count, &capacity, sizeof *numbers);
        numbers[count++] = row_number(query);
    }
    return query_list(query, numbers, count, ret, ret_count, err);
}

void queries_done(struct ledger *ledger)
{
    for (int sql = 0; sql < SQL_COUNT; sql++) {
        sqlite3_finalize(ledger->statements[sql]);
        ledger->statements[sql] = NULL;
    }
}
