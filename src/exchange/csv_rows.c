#include "senbetsu/exchange/csv_rows.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/code.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

int rows_known(const struct rows *rows, int place)
{
    for (int i = 0; i < rows->column_count; i++)
        if (rows->where[i] == place)
            return i;
    return -1;
}

static bool check_columns(const struct rows *rows, bool more_columns, struct err *err)
{
    for (int i = 0; i < rows->column_count; i++)
        if (rows->columns[i].required && rows->where[i] < 0)
            return err_set(err, ERR_INPUT, "%s, line 1: the column %s is missing.", rows->file,
                           rows->columns[i].name);
    for (int place = 0; place < rows->csv.columns && !more_columns; place++)
        if (rows_known(rows, place) < 0)
            return err_set(err, ERR_INPUT,
                           "%s, line 1, column %d (%s): no column of that name is "
                           "known here.",
                           rows->file, place + 1, rows->csv.header[place]);
    return true;
}

bool rows_read(const struct import *import, const struct column *columns, int count,
               bool more_columns, struct rows *ret, struct err *err)
{
    struct rows rows = {.file = import->file, .columns = columns, .column_count = count};
    struct err why = {0};
    if (!csv_parse(import->bytes, import->length, &rows.csv, &why))
        return err_set(err, why.code, "%s, %s", import->file, why.text);
    for (int i = 0; i < count; i++)
        rows.where[i] = csv_column(&rows.csv, columns[i].name);
    if (!check_columns(&rows, more_columns, err)) {
        csv_done(&rows.csv);
        return false;
    }
    *ret = rows;
    return true;
}

void rows_done(struct rows *rows)
{
    csv_done(&rows->csv);
}

struct row rows_at(const struct rows *rows, size_t index, struct err *err)
{
    const struct csv_row *source = &rows->csv.rows[index];
    return (struct row){.rows = rows, .line = source->line, .fields = source->fields, .err = err};
}

static bool refuse(const struct row *row, int place, const char *format, va_list arguments)
    __attribute__((format(printf, 3, 0)));

static bool refuse(const struct row *row, int place, const char *format, va_list arguments)
{
    char sentence[ERR_TEXT_SIZE];
    vsnprintf(sentence, sizeof sentence, format, arguments);
    err_set(row->err, ERR_INPUT, "%s", sentence);
    if (place < 0)
        return err_at(row->err, "%s, line %d", row->rows->file, row->line);
    return err_at(row->err, "%s, line %d, column %d (%s)", row->rows->file, row->line, place + 1,
                  row->rows->csv.header[place]);
}

bool row_refuse_at(const struct row *row, int place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    refuse(row, place, format, arguments);
    va_end(arguments);
    return false;
}

bool row_refuse(const struct row *row, int column, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    refuse(row, row->rows->where[column], format, arguments);
    va_end(arguments);
    return false;
}

bool row_refuse_as(const struct row *row, int column, const struct err *why)
{
    if (why->code == ERR_INPUT || why->code == ERR_ABSENT)
        return row_refuse(row, column, "%s", why->text);
    return err_set(row->err, why->code, "%s", why->text);
}

const char *row_field(const struct row *row, int column)
{
    int place = row->rows->where[column];
    return place < 0 ? "" : row->fields[place];
}

/* Is there anything to read? A required field that is empty is refused: `*ret_done` is then the
 * answer. */
static bool is_empty(const struct row *row, int column, bool *ret_done)
{
    if (row_field(row, column)[0] != '\0')
        return false;
    *ret_done = !row->rows->columns[column].required ||
                row_refuse(row, column, "the field is empty; every row needs it.");
    return true;
}

bool row_code(const struct row *row, int column, char *ret, size_t size)
{
    bool done;
    struct err why = {0};
    if (is_empty(row, column, &done))
        return done;
    if (!code_check(row_field(row, column), "the field", &why))
        return row_refuse(row, column, "%s", why.text);
    text_copy(ret, size, row_field(row, column));
    return true;
}

bool row_note(const struct row *row, int column, char *ret, size_t size)
{
    bool done;
    const char *field = row_field(row, column);
    if (is_empty(row, column, &done))
        return done;
    if (strchr(field, '\n') != NULL)
        return row_refuse(row, column, "a note is a single line.");
    if (utf8_count(field) > 200 || strlen(field) >= size)
        return row_refuse(row, column, "the note is longer than 200 characters.");
    text_copy(ret, size, field);
    return true;
}

bool row_whole(const struct row *row, int column, int64_t lowest, int64_t highest,
               int64_t *ret_number)
{
    bool done;
    if (is_empty(row, column, &done))
        return done;
    return number_whole(row_field(row, column), lowest, highest, ret_number) ||
           row_refuse(row, column, "a whole number from %lld to %lld is expected, not \"%s\".",
                      (long long)lowest, (long long)highest, row_field(row, column));
}

bool row_term(const struct row *row, int column, const struct term *terms, int count,
              int *ret_index)
{
    bool done;
    char words[128];
    if (is_empty(row, column, &done))
        return done;
    int index = term_find(terms, count, row_field(row, column));
    if (index < 0)
        return row_refuse(row, column, "%s is expected, not \"%s\".",
                          term_list(terms, count, words, sizeof words), row_field(row, column));
    *ret_index = index;
    return true;
}

bool row_date(const struct row *row, int column, char ret_date[11])
{
    bool done;
    if (is_empty(row, column, &done))
        return done;
    if (!date_valid(row_field(row, column)))
        return row_refuse(row, column, "a date such as 2026-06-14 is expected, not \"%s\".",
                          row_field(row, column));
    text_copy(ret_date, 11, row_field(row, column));
    return true;
}

static bool check_spawning(const struct row *row, int column, struct ledger *ledger,
                           const char *code)
{
    struct spawning spawning;
    struct err why = {0};
    return (code_check(code, "the field", &why) && spawning_get(ledger, code, &spawning, &why)) ||
           row_refuse_as(row, column, &why);
}

bool row_spawnings(const struct row *row, int column, struct ledger *ledger, char ret[SIRES_SIZE])
{
    bool done;
    char code[SIRES_SIZE];
    const char *field = row_field(row, column);
    if (is_empty(row, column, &done))
        return done;
    if (strlen(field) >= SIRES_SIZE)
        return row_refuse(row, column, "there are more spawnings than a lot can be of.");
    for (const char *at = field;; at++) {
        size_t length = strcspn(at, ";");
        memcpy(code, at, length);
        code[length] = '\0';
        if (!check_spawning(row, column, ledger, code))
            return false;
        at += length;
        if (*at == '\0')
            break;
    }
    text_copy(ret, SIRES_SIZE, field);
    return true;
}

bool row_lot(const struct row *row, int column, int spawning_column, const char *spawnings,
             char ret[CODE_SIZE])
{
    if (!row_code(row, column, ret, CODE_SIZE))
        return false;
    if (ret[0] != '\0' || strchr(spawnings, ';') == NULL)
        return true;
    return row_refuse(row, row->rows->where[column] >= 0 ? column : spawning_column,
                      "fish of several spawnings are in a mixed lot; name it.");
}

static bool read_cv(const struct row *row, int column, struct count *count)
{
    const char *field = row_field(row, column);
    return field[0] == '\0' || number_millionths(field, 0, CV_ONE, &count->cv) ||
           row_refuse(row, column,
                      "a decimal number from 0 to 1 with at most six places is expected, not "
                      "\"%s\".",
                      field);
}

bool row_count(const struct row *row, int column, struct count *ret)
{
    int method = METHOD_UNSAID;
    struct err why = {0};
    if (!row_whole(row, column, 0, FISH_MOST, &ret->number) ||
        !row_term(row, column + 1, method_terms, METHOD_COUNT, &method) ||
        !read_cv(row, column + 2, ret))
        return false;
    ret->method = (enum method)method;
    return count_check(ret, &why) ||
           row_refuse(row, ret->cv != 0 ? column + 2 : column + 1, "%s", why.text);
}

void import_count(struct import *import, enum saved saved)
{
    import->added += saved == SAVED_NEW;
    import->changed += saved == SAVED_CHANGED;
    import->same += saved == SAVED_SAME;
}
