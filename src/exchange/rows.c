/* Reads and writes CSV by a record's table of columns, and says file, line and column of whatever
 * is wrong.
 *
 * Files are made by people in spreadsheets, so a complaint names the cell: file, line, column
 * number and name. The first wrong cell ends the import, and nothing of the file is kept: half a
 * file in the ledger would be worse than none, as nobody could say which half. */
#include "rows.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/store/spawnings.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int rows_known(const struct rows *rows, int place)
{
    return rows->known[place];
}

static bool check_columns(const struct rows *rows, bool more_columns, struct err *err)
{
    for (int i = 0; i < rows->column_count; i++)
        if (rows->columns[i].required && rows->where[i] < 0)
            return err_set(err, ERR_INPUT, "%s, line 1: the column %s is missing.",
                           rows->import->file, rows->columns[i].name);
    for (int place = 0; place < rows->csv.columns && !more_columns; place++)
        if (rows_known(rows, place) < 0)
            return err_set(
                err, ERR_INPUT,
                "%s, line 1, column %d (%s): unknown column; remove it or correct its name.",
                rows->import->file, place + 1, rows->csv.header[place]);
    return true;
}

/* Knows where the columns are; what was read of the file is given up where that fails. */
static bool find_columns(struct rows *rows, bool more_columns, struct err *err)
{
    rows->known = alloc_zeroed((size_t)rows->csv.columns, sizeof *rows->known);
    memset(rows->known, -1, (size_t)rows->csv.columns);
    for (int i = 0; i < rows->column_count; i++) {
        rows->where[i] = csv_column(&rows->csv, rows->columns[i].name);
        if (rows->where[i] >= 0)
            rows->known[rows->where[i]] = (int8_t)i;
    }
    return check_columns(rows, more_columns, err);
}

/* A sentence of the parser's begins with the line. */
static bool refuse_file(const struct rows *rows, const struct err *why, struct err *err)
{
    return err_set(err, why->code, "%s%s%s", rows->reader.failed ? "" : rows->import->file,
                   rows->reader.failed ? "" : ", ", why->text);
}

bool rows_read(struct import *import, const struct column *columns, int count, bool more_columns,
               struct rows *ret, struct err *err)
{
    struct rows rows = {.import = import, .columns = columns, .column_count = count};
    struct err why = {0};
    bool read = csv_parse(import->bytes, &rows.csv, &why) || refuse_file(&rows, &why, err);
    if (!read || !find_columns(&rows, more_columns, err)) {
        rows_done(&rows);
        return false;
    }
    *ret = rows;
    return true;
}

bool rows_open(struct import *import, const struct column *columns, int count, bool more_columns,
               struct rows *ret, struct err *err)
{
    struct rows rows = {
        .import = import,
        .columns = columns,
        .column_count = count,
        .reader = {.bytes = import->bytes, .more = import->more, .source = import->source}};
    struct err why = {0};
    bool read = csv_begin(&rows.reader, &rows.csv, &why) || refuse_file(&rows, &why, err);
    if (!read || !find_columns(&rows, more_columns, err)) {
        rows_done(&rows);
        return false;
    }
    *ret = rows;
    return true;
}

bool rows_take(struct rows *rows, struct row *ret, struct err *err)
{
    struct row row = {.rows = rows, .ledger = rows->import->ledger, .err = err};
    struct err why = {0};
    if (!csv_read(&rows->reader, &rows->csv, &row.first, &row.line, &why))
        return refuse_file(rows, &why, err);
    *ret = row;
    return true;
}

void rows_done(struct rows *rows)
{
    csv_reader_done(&rows->reader);
    csv_done(&rows->csv);
    free(rows->known);
    rows->known = NULL;
}

struct row rows_at(const struct rows *rows, size_t index, struct err *err)
{
    return (struct row){.rows = rows,
                        .ledger = rows->import->ledger,
                        .line = rows->csv.rows[index].line,
                        .first = csv_first(&rows->csv, index),
                        .err = err};
}

static bool refuse(const struct row *row, int place, const char *format, va_list arguments)
    __attribute__((format(printf, 3, 0)));

static bool refuse(const struct row *row, int place, const char *format, va_list arguments)
{
    char sentence[ERR_TEXT_SIZE];
    vsnprintf(sentence, sizeof sentence, format, arguments);
    err_set(row->err, ERR_INPUT, "%s", sentence);
    if (place < 0)
        return err_at(row->err, "%s, line %d", row->rows->import->file, row->line);
    return err_at(row->err, "%s, line %d, column %d (%s)", row->rows->import->file, row->line,
                  place + 1, row->rows->csv.header[place]);
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
    if (place < 0)
        return "";
    const char *field = row->first;
    while (place-- > 0)
        field = csv_next(field);
    return field;
}

/* All known ones, in one walk through the row. */
static void find_fields(const struct row *row, const char *ret_fields[COLUMNS_MOST])
{
    const struct rows *rows = row->rows;
    const char *field = row->first;
    for (int i = 0; i < rows->column_count; i++)
        ret_fields[i] = "";
    for (int place = 0; place < rows->csv.columns; place++, field = csv_next(field))
        if (rows->known[place] >= 0)
            ret_fields[rows->known[place]] = field;
}

bool row_read(const struct row *row, void *ret_record)
{
    const struct rows *rows = row->rows;
    const char *fields[COLUMNS_MOST];
    struct err why = {0};
    find_fields(row, fields);
    columns_init(rows->columns, rows->column_count, ret_record);
    for (int i = 0; i < rows->column_count; i++) {
        if (rows->columns[i].required && fields[i][0] == '\0')
            return row_refuse(row, i, "the field is empty; it is required.");
        if (!column_parse(&rows->columns[i], fields[i], ret_record, &why))
            return row_refuse(row, i, "%s", why.text);
    }
    return true;
}

bool row_check_count(const struct row *row, int column, const struct count *count)
{
    struct err why = {0};
    return count_check(count, &why) ||
           row_refuse(row, count->cv != 0 ? column + 2 : column + 1, "%s", why.text);
}

bool row_check_lot(const struct row *row, int spawning_column, const char *spawnings,
                   int lot_column, const char *lot)
{
    char code[CODE_SIZE];
    struct spawning spawning;
    struct err why = {0};
    for (const char *list = spawnings; code_next(&list, code);)
        if (!spawning_get(row->ledger, code, &spawning, &why))
            return row_refuse_as(row, spawning_column, &why);
    return lot[0] != '\0' || strchr(spawnings, ';') == NULL ||
           row_refuse(row, row->rows->where[lot_column] >= 0 ? lot_column : spawning_column,
                      "name the mixed lot of these spawnings in the column lot.");
}

void rows_count(const struct rows *rows, enum saved saved)
{
    struct import *import = rows->import;
    import->added += saved == SAVED_NEW;
    import->changed += saved == SAVED_CHANGED;
    import->same += saved == SAVED_SAME;
}

void export_names(const struct column *columns, int count, struct text *out)
{
    for (int i = 0; i < count; i++)
        csv_add(out, columns[i].name, i == 0);
}

void export_fields(const struct column *columns, int count, const void *record, struct text *out)
{
    char buffer[CODES_SIZE];
    for (int i = 0; i < count; i++)
        csv_add(out, column_text(&columns[i], record, buffer), i == 0);
}
