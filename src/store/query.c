/* Running the statements of the registry. This is the one place that knows how SQLite binds and
 * steps; all others say what they ask for and how a row is read. The texts in the registry are
 * static but for the lists of a record's columns, which would stand in each statement of a record
 * four times: those come from its table. */
#include "query.h"

#include "connection.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/parent.h"
#include "senbetsu/core/spawning.h"
#include "senbetsu/core/variety.h"

#include <assert.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
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

void query_row_of(struct query *query, const struct query *row)
{
    while (query->bound < sqlite3_bind_parameter_count(query->statement)) {
        sqlite3_value *value = sqlite3_column_value(row->statement, query->bound);
        keep_first_failure(query, sqlite3_bind_value(query->statement, ++query->bound, value));
    }
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

static void read_column(struct query *query, const struct column *column, void *record)
{
    char *member = (char *)record + column->at;
    if (column->kind == COLUMN_TERM)
        column_set_number(column, record, row_word(query, column->terms, column->term_count));
    else if (column->kind == COLUMN_DAY)
        row_day(query, member);
    else if (column_is_text(column) && column->required)
        row_code(query, member, column->size);
    else if (column_is_text(column))
        row_text(query, member, column->size);
    else
        column_set_number(column, record,
                          row_between_or(query, column->kind == COLUMN_CV ? 0 : column->lowest,
                                         column->kind == COLUMN_CV ? CV_ONE : column->highest,
                                         column->unknown));
}

void row_record(struct query *query, const struct column *columns, int count, void *record)
{
    for (int i = 0; i < count; i++)
        read_column(query, &columns[i], record);
}

bool query_step(struct query *query)
{
    if (query->code != SQLITE_OK && query->code != SQLITE_ROW)
        return false;
    query->code = sqlite3_step(query->statement);
    query->column = 0;
    return query->code == SQLITE_ROW;
}

/* The first that is found is what query_end tells of. */
static void refuse(struct query *query, int column)
{
    if (query->code == SQLITE_ROW) {
        query->code = QUERY_DAMAGED;
        query->damaged = column;
    }
}

/* `type` is the column's: to ask SQLite for it takes as long as to read it. */
static int64_t read_between(struct query *query, int column, int type, int64_t lowest,
                            int64_t highest)
{
    int64_t number =
        type == SQLITE_INTEGER ? sqlite3_column_int64(query->statement, column) : lowest;
    if (type == SQLITE_INTEGER && number >= lowest && number <= highest)
        return number;
    refuse(query, column);
    return lowest;
}

int64_t row_between(struct query *query, int64_t lowest, int64_t highest)
{
    int column = query->column++;
    int type = sqlite3_column_type(query->statement, column);
    return read_between(query, column, type, lowest, highest);
}

int64_t row_between_or(struct query *query, int64_t lowest, int64_t highest, int64_t absent)
{
    int column = query->column++;
    int type = sqlite3_column_type(query->statement, column);
    return type == SQLITE_NULL ? absent : read_between(query, column, type, lowest, highest);
}

bool row_is_number(const struct query *query)
{
    return sqlite3_column_type(query->statement, query->column) == SQLITE_INTEGER;
}

int row_int(struct query *query, int lowest, int highest)
{
    return (int)row_between(query, lowest, highest);
}

int row_int_or(struct query *query, int lowest, int highest, int absent)
{
    return (int)row_between_or(query, lowest, highest, absent);
}

bool row_flag(struct query *query)
{
    return row_between(query, 0, 1) != 0;
}

int64_t row_id(struct query *query)
{
    return row_between(query, 1, INT64_MAX);
}

int64_t row_id_or_none(struct query *query)
{
    return row_between_or(query, 1, INT64_MAX, 0);
}

/* 1900-01-02 to 2199-12-30, UTC: the local day is one that can be written, whatever the zone. */
static const int64_t first_instant = INT64_C(-2208902400000);
static const int64_t last_instant = INT64_C(7258031999999);

int64_t row_instant(struct query *query)
{
    return row_between(query, first_instant, last_instant);
}

int64_t row_instant_or(struct query *query, int64_t absent)
{
    return row_between_or(query, first_instant, last_instant, absent);
}

static bool is_text(const char *text, size_t size)
{
    static const uint64_t ones = UINT64_C(0x0101010101010101);
    static const uint64_t highest = UINT64_C(0x8080808080808080);
    for (size_t at = 0; at < size;) {
        uint32_t code;
        uint64_t eight;
        if (size - at >= sizeof eight) { /* most often eight ASCII characters, none of them zero */
            memcpy(&eight, text + at, sizeof eight);
            if (((eight | (eight - ones)) & highest) == 0) {
                at += sizeof eight;
                continue;
            }
        }
        bool ascii = (unsigned char)text[at] < 0x80;
        size_t bytes = ascii ? 1 : utf8_decode(text + at, size - at, &code);
        if (bytes == 0 || text[at] == '\0')
            return false;
        at += bytes;
    }
    return true;
}

const char *row_text_or_null(struct query *query)
{
    int column = query->column++;
    int type = sqlite3_column_type(query->statement, column);
    if (type == SQLITE_NULL)
        return NULL;
    const char *text = (const char *)sqlite3_column_text(query->statement, column);
    if (type == SQLITE_TEXT && text != NULL &&
        is_text(text, (size_t)sqlite3_column_bytes(query->statement, column)))
        return text;
    refuse(query, column);
    return "";
}

const char *row_text_in_place(struct query *query)
{
    const char *text = row_text_or_null(query);
    return text == NULL ? "" : text;
}

void row_text_cut(struct query *query, char *buffer, size_t size)
{
    text_copy(buffer, size, row_text_in_place(query));
}

const char *row_text_within(struct query *query, size_t size)
{
    const char *text = row_text_or_null(query);
    bool fits = text == NULL || strlen(text) < size;
    row_require(query, fits);
    return fits ? text : "";
}

void row_text(struct query *query, char *buffer, size_t size)
{
    const char *text = row_text_within(query, size);
    text_copy(buffer, size, text == NULL ? "" : text);
}

void row_code(struct query *query, char *buffer, size_t size)
{
    row_text(query, buffer, size);
    row_require(query, buffer[0] != '\0');
}

void row_day(struct query *query, char ret_day[DATE_SIZE])
{
    row_text(query, ret_day, DATE_SIZE);
    if (ret_day[0] == '\0' || date_valid(ret_day))
        return;
    row_require(query, false);
    ret_day[0] = '\0';
}

int row_word(struct query *query, const struct term *terms, int count)
{
    const char *word = row_text_or_null(query);
    int index = term_find(terms, count, word == NULL ? "" : word);
    row_require(query, index >= 0);
    return index < 0 ? 0 : index;
}

int64_t row_fish(struct query *query)
{
    return row_between_or(query, 0, FISH_MOST, NOT_COUNTED);
}

void row_count(struct query *query, struct count *ret)
{
    ret->number = row_fish(query);
    ret->method = (enum method)row_word(query, method_terms, METHOD_COUNT);
    ret->cv = row_int_or(query, 0, CV_ONE, 0);
    row_require(query, count_check(ret, NULL));
}

void row_require(struct query *query, bool holds)
{
    if (!holds)
        refuse(query, query->column - 1);
}

void row_sentence(struct query *query, const char *format, struct text *out)
{
    for (const char *at = format; *at != '\0'; at += *at == '%') {
        size_t plain = strcspn(at, "%");
        text_add_bytes(out, at, plain);
        at += plain;
        if (*at != '%')
            continue;
        if (sqlite3_column_type(query->statement, query->column) == SQLITE_INTEGER)
            text_addf(out, "%" PRId64, row_between(query, INT64_MIN, INT64_MAX));
        else
            text_add(out, row_text_in_place(query));
    }
}

bool ledger_damaged(const struct ledger *ledger, struct err *err, const char *format, ...)
{
    struct text what;
    va_list arguments;
    text_init(&what);
    va_start(arguments, format);
    text_addv(&what, format, arguments);
    va_end(arguments);
    err_set(err, ERR_DAMAGE,
            "The ledger is damaged (%.300s); see what check says, or put your latest backup in "
            "its place with restore: %s.",
            what.data, ledger->path);
    text_done(&what);
    return false;
}

/* What was found, and where: "number of a fish cannot be 0". */
static bool damage_error(const struct query *query, struct err *err)
{
    sqlite3_stmt *statement = query->statement;
    const char *table = sqlite3_column_table_name(statement, query->damaged);
    const char *column = sqlite3_column_origin_name(statement, query->damaged);
    int type = sqlite3_column_type(statement, query->damaged);
    char value[NUMBER_SIZE] = "such a text";
    if (type == SQLITE_INTEGER)
        snprintf(value, sizeof value, "%" PRId64,
                 (int64_t)sqlite3_column_int64(statement, query->damaged));
    else if (type == SQLITE_NULL)
        text_copy(value, sizeof value, "empty");
    if (table == NULL || column == NULL)
        return ledger_damaged(query->ledger, err, "what it adds up to cannot be %s", value);
    return ledger_damaged(query->ledger, err, "%s of a %s cannot be %s", column, table, value);
}

/* What a statement of ours can only say of values that cannot be: a sum that does not fit, what a
 * trigger counts beyond all bounds. */
static bool is_wrong_value(int code)
{
    return (code & 0xff) == SQLITE_ERROR || code == SQLITE_CONSTRAINT_DATATYPE;
}

static bool failure(const struct query *query, struct err *err)
{
    const char *detail = sqlite3_errmsg(query->ledger->db);
    if (query->code == QUERY_DAMAGED)
        return damage_error(query, err);
    if (query->statement != NULL && is_wrong_value(query->code))
        return ledger_damaged(query->ledger, err, "it holds a number that cannot be: %s", detail);
    return sqlite_error(query->ledger->path, query->code, detail, err);
}

/* The statement is reset even after a failure, and its bindings go: they may point to memory that
 * is about to be freed. */
bool query_end(struct query *query, struct err *err)
{
    int code = query->code;
    bool fine = code == SQLITE_OK || code == SQLITE_ROW || code == SQLITE_DONE;
    if (!fine)
        failure(query, err);
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
        *ret_number = row_between_or(query, 0, INT64_MAX - 1, *ret_number);
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

bool query_numbers(struct query *query, int64_t lowest, int64_t highest, int64_t **ret,
                   size_t *ret_count, struct err *err)
{
    int64_t *numbers = NULL;
    size_t count = 0, capacity = 0;
    while (query_step(query)) {
        numbers = alloc_room(numbers, count, &capacity, sizeof *numbers);
        numbers[count++] = row_between(query, lowest, highest);
    }
    return query_list(query, numbers, count, ret, ret_count, err);
}

bool query_instants(struct query *query, int64_t **ret, size_t *ret_count, struct err *err)
{
    return query_numbers(query, first_instant, last_instant, ret, ret_count, err);
}

bool query_ids(struct query *query, int64_t **ret, size_t *ret_count, struct err *err)
{
    return query_numbers(query, 1, INT64_MAX, ret, ret_count, err);
}

void queries_done(struct ledger *ledger)
{
    for (int sql = 0; sql < SQL_COUNT; sql++) {
        sqlite3_finalize(ledger->statements[sql]);
        ledger->statements[sql] = NULL;
    }
}
