/* CSV is read in one pass into one block of memory, and every field keeps its line and column, so
 * that a wrong file is refused with the place to correct. RFC 4180, but stricter: what a
 * spreadsheet would guess about (a stray quote, a short row, bytes that are not UTF-8) is an error
 * here. */
#include "senbetsu/base/csv.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Where the parser is, and what it has gathered. Fields are copied into `memory`, which is as long
 * as the file: a field and its terminator never need more than the field and its separator. */
struct reader {
    const char *at, *end;
    int line, column;
    char *out;
    char **cells; /* the header's and then every row's fields, one after another */
    size_t cell_count, cell_capacity;
    struct csv_row *rows; /* the header is rows[0] until the end */
    size_t row_count, row_capacity;
    struct err *err;
};

static bool refuse(struct reader *reader, const char *why)
{
    return err_set(reader->err, ERR_INPUT, "line %d, column %d: %s", reader->line, reader->column,
                   why);
}

/* Must not be called at the end of the file. */
static bool at_line_break(const struct reader *reader)
{
    return *reader->at == '\n' ||
           (*reader->at == '\r' && reader->end - reader->at > 1 && reader->at[1] == '\n');
}

static void skip_line_break(struct reader *reader)
{
    reader->at += *reader->at == '\r' ? 2 : 1;
    reader->line++;
}

static bool at_field_end(const struct reader *reader)
{
    return reader->at == reader->end || *reader->at == ',' || at_line_break(reader);
}

static bool take_character(struct reader *reader)
{
    uint32_t code;
    size_t bytes = utf8_decode(reader->at, (size_t)(reader->end - reader->at), &code);
    if (bytes == 0)
        return refuse(reader, "these bytes are not UTF-8; save the file as UTF-8.");
    if (utf8_control(code))
        return refuse(reader, "the field has a control character; remove it.");
    memcpy(reader->out, reader->at, bytes);
    reader->out += bytes;
    reader->at += bytes;
    return true;
}

static bool take_quoted(struct reader *reader)
{
    int first_line = reader->line;
    reader->at++;
    for (;;) {
        if (reader->at == reader->end) {
            reader->line = first_line;
            return refuse(reader, "the closing quote of this field is missing.");
        }
        if (at_line_break(reader)) {
            skip_line_break(reader);
            *reader->out++ = '\n';
        } else if (*reader->at == '"' && reader->end - reader->at > 1 && reader->at[1] == '"') {
            *reader->out++ = '"';
            reader->at += 2;
        } else if (*reader->at == '"') {
            reader->at++;
            return at_field_end(reader) ||
                   refuse(reader,
                          "there is text after the closing quote; double a quote inside a field.");
        } else if (!take_character(reader)) {
            return false;
        }
    }
}

static bool take_plain(struct reader *reader)
{
    while (!at_field_end(reader)) {
        if (*reader->at == '"')
            return refuse(reader, "a field that is not quoted has a quote in it; quote the field "
                                  "and double that quote.");
        if (!take_character(reader))
            return false;
    }
    return true;
}

static bool take_field(struct reader *reader)
{
    reader->cells =
        alloc_room(reader->cells, reader->cell_count, &reader->cell_capacity, sizeof(char *));
    reader->cells[reader->cell_count++] = reader->out;
    bool quoted = reader->at < reader->end && *reader->at == '"';
    if (!(quoted ? take_quoted(reader) : take_plain(reader)))
        return false;
    *reader->out++ = '\0';
    return true;
}

/* One line of fields; the caller has seen that the line is not empty. */
static bool take_row(struct reader *reader)
{
    reader->rows =
        alloc_room(reader->rows, reader->row_count, &reader->row_capacity, sizeof(struct csv_row));
    reader->rows[reader->row_count++] = (struct csv_row){.line = reader->line};
    for (reader->column = 1;; reader->column++) {
        if (!take_field(reader))
            return false;
        if (reader->at == reader->end)
            return true;
        if (*reader->at != ',')
            break;
        reader->at++;
    }
    skip_line_break(reader);
    return true;
}

static bool check_header(struct reader *reader)
{
    reader->line = reader->rows[0].line;
    for (size_t i = 0; i < reader->cell_count; i++) {
        reader->column = (int)i + 1;
        if (reader->cells[i][0] == '\0')
            return refuse(reader, "the column has no name.");
        for (size_t j = 0; j < i; j++)
            if (strcmp(reader->cells[i], reader->cells[j]) == 0)
                return err_set(reader->err, ERR_INPUT,
                               "line %d, column %d: column %d is also named \"%s\".", reader->line,
                               reader->column, (int)j + 1, reader->cells[i]);
    }
    return true;
}

static bool check_width(struct reader *reader, int columns)
{
    if (reader->column == columns)
        return true;
    return err_set(reader->err, ERR_INPUT, "line %d, column %d: the row has %d field%s, not %d.",
                   reader->rows[reader->row_count - 1].line,
                   reader->column < columns ? reader->column + 1 : columns + 1, reader->column,
                   reader->column == 1 ? "" : "s", columns);
}

static bool take_rows(struct reader *reader, int *ret_columns)
{
    int columns = 0;
    while (reader->at < reader->end) {
        if (at_line_break(reader)) {
            skip_line_break(reader);
            continue;
        }
        if (!take_row(reader))
            return false;
        if (columns == 0) {
            columns = reader->column;
            int line = reader->line;
            if (!check_header(reader))
                return false;
            reader->line = line;
        } else if (!check_width(reader, columns)) {
            return false;
        }
    }
    if (columns == 0) {
        err_set(reader->err, ERR_INPUT,
                "line 1: the header line with the column names is missing.");
        return false;
    }
    *ret_columns = columns;
    return true;
}

bool csv_parse(const char *bytes, size_t length, struct csv *ret, struct err *err)
{
    char *memory = alloc_resized(NULL, length + 1, 1);
    struct reader reader = {
        .at = bytes, .end = bytes + length, .line = 1, .column = 1, .out = memory, .err = err};
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0)
        reader.at += 3;
    int columns = 0;
    if (!take_rows(&reader, &columns)) {
        free(reader.cells);
        free(reader.rows);
        free(memory);
        return false;
    }
    size_t row_count = reader.row_count - 1;
    for (size_t i = 0; i < row_count; i++)
        reader.rows[i] = (struct csv_row){.line = reader.rows[i + 1].line,
                                          .fields = reader.cells + (i + 1) * (size_t)columns};
    *ret = (struct csv){.columns = columns,
                        .header = reader.cells,
                        .row_count = row_count,
                        .rows = reader.rows,
                        .memory = memory};
    return true;
}

void csv_done(struct csv *csv)
{
    free(csv->header);
    free(csv->rows);
    free(csv->memory);
    *csv = (struct csv){0};
}

int csv_column(const struct csv *csv, const char *name)
{
    for (int i = 0; i < csv->columns; i++)
        if (strcmp(csv->header[i], name) == 0)
            return i;
    return -1;
}

void csv_add(struct text *out, const char *field, bool first)
{
    if (!first)
        text_add(out, ",");
    if (field[strcspn(field, ",\"\r\n")] == '\0') {
        text_add(out, field);
        return;
    }
    text_add(out, "\"");
    for (; *field != '\0'; field++)
        text_add_bytes(out, *field == '"' ? "\"\"" : field, *field == '"' ? 2 : 1);
    text_add(out, "\"");
}

void csv_add_number(struct text *out, long long number, bool first)
{
    enum { DIGITS_MOST = 20 };
    char field[DIGITS_MOST + 2];
    char *at = field + sizeof field - 1;
    unsigned long long rest = number < 0 ? -(unsigned long long)number : (unsigned long long)number;
    *at = '\0';
    do
        *--at = (char)('0' + rest % 10);
    while ((rest /= 10) > 0);
    if (number < 0)
        *--at = '-';
    text_add(out, first ? "" : ",");
    text_add(out, at);
}

void csv_add_known(struct text *out, bool known, long long number)
{
    if (known)
        csv_add_number(out, number, false);
    else
        text_add(out, ",");
}

void csv_add_real(struct text *out, bool known, double number)
{
    char field[32] = "";
    if (known)
        snprintf(field, sizeof field, "%.10g", number);
    csv_add(out, field, false);
}

void csv_end_row(struct text *out)
{
    text_add(out, "\n");
}
