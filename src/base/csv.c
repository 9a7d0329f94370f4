/* CSV is read in one pass. A whole file is decoded where it lies: a field and its end never need
 * more bytes than the field and its separator, so it costs its own size and eight bytes a row,
 * however many fields it has. Row by row, a row is decoded beside the block that it lies in, so
 * that it can be looked for again when the next block has come. Every row keeps its line, so that a
 * wrong file is refused with the place to correct. RFC 4180, but stricter: what a spreadsheet would
 * guess about (a stray quote, a short row, bytes that are not UTF-8) is an error here.
 *
 * A spreadsheet takes a cell that begins with one of = + - @ for a formula and runs it, whoever
 * wrote the text. An apostrophe in front keeps it a text. It is taken off again from exactly those
 * fields that have been given one, so any text comes back as it was, also one that began with an
 * apostrophe before. */
#include "senbetsu/base/csv.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { GUARD = '\'', BYTES_MOST = 1 << 30 };

/* No row that is taken has more bytes: a quote in a field is two. */
enum { ROW_BYTES_MOST = CSV_COLUMNS_MOST * (2 * CSV_FIELD_LONGEST + 3) };

/* Where the parser is. What has been decoded ends at `out`, which never overtakes `at`. */
struct reader {
    const char *at, *end;
    char *out;
    const char *field; /* the field being read: where it begins in what has been decoded */
    int field_line;    /* … and in the file */
    int line, column;
    struct csv csv;
    size_t row_capacity;
    struct err *err;
};

static bool refuse(struct reader *reader, const char *why)
{
    return err_set(reader->err, ERR_INPUT, "line %d, column %d: %s", reader->line, reader->column,
                   why);
}

/* Names the line where the field begins. */
static bool refuse_field(struct reader *reader, const char *why)
{
    reader->line = reader->field_line;
    return refuse(reader, why);
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

static const char *control_refusal(uint32_t code)
{
    if (code == '\0')
        return "there is a NUL byte, which no text has; save the file as CSV in UTF-8.";
    if (code == '\r')
        return "a carriage return alone ends no line; save the file with line ends of LF or CR LF.";
    return "the field has a control character; remove it.";
}

static bool take_character(struct reader *reader)
{
    uint32_t code;
    size_t bytes = utf8_decode(reader->at, (size_t)(reader->end - reader->at), &code);
    if (bytes == 0)
        return refuse(reader, "these bytes are not UTF-8; save the file as UTF-8.");
    if (utf8_control(code))
        return refuse(reader, control_refusal(code));
    if (reader->out - reader->field >= CSV_FIELD_LONGEST)
        return refuse_field(reader, "the field is too long; perhaps a closing quote is missing.");
    memmove(reader->out, reader->at, bytes);
    reader->out += bytes;
    reader->at += bytes;
    return true;
}

static bool take_quoted(struct reader *reader)
{
    reader->at++;
    for (;;) {
        if (reader->at == reader->end)
            return refuse_field(reader, "the closing quote of this field is missing.");
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

/* What spreadsheets pass over before they look for a formula. */
static bool is_passed_over(uint32_t code)
{
    return code == ' ' || code == 0xA0 || code == 0x3000 || (code != '\0' && !utf8_printable(code));
}

/* Does a spreadsheet run this text, or would it, but for guards that it has? The wide forms of the
 * signs are taken like the narrow ones where Japanese is written. */
static bool is_formula(const char *text)
{
    uint32_t code;
    while (*text == GUARD)
        text++;
    if (*text == '\t' || *text == '\r' || *text == '\n')
        return true;
    do
        code = utf8_next(&text);
    while (is_passed_over(code));
    switch (code) {
    case '=':
    case '+':
    case '-':
    case '@':
    case 0xFF1D:
    case 0xFF0B:
    case 0xFF0D:
    case 0xFF20:
        return true;
    default:
        return false;
    }
}

static void take_guard_off(struct reader *reader, char *field)
{
    *reader->out = '\0';
    if (*field != GUARD || !is_formula(field + 1))
        return;
    memmove(field, field + 1, (size_t)(reader->out - field));
    reader->out--;
}

/* A field and the separator after it, which its end overwrites. */
static bool take_field(struct reader *reader, bool *ret_more)
{
    char *field = reader->out;
    bool quoted = reader->at < reader->end && *reader->at == '"';
    reader->field = field;
    reader->field_line = reader->line;
    if (!(quoted ? take_quoted(reader) : take_plain(reader)))
        return false;
    *ret_more = reader->at < reader->end && *reader->at == ',';
    if (*ret_more)
        reader->at++;
    else if (reader->at < reader->end)
        skip_line_break(reader);
    take_guard_off(reader, field);
    reader->out++;
    return true;
}

/* One line of fields; the caller has seen that the line is not empty. Leaves their number. */
static bool take_row(struct reader *reader)
{
    bool more = true;
    for (reader->column = 0; more;) {
        if (++reader->column > CSV_COLUMNS_MOST)
            return refuse(reader, "there are more than 1,000 columns; a comma too many, or another "
                                  "kind of file.");
        if (!take_field(reader, &more))
            return false;
    }
    return true;
}

static bool check_header(struct reader *reader)
{
    const struct csv *csv = &reader->csv;
    for (int i = 0; i < csv->columns; i++) {
        reader->column = i + 1;
        if (csv->header[i][0] == '\0')
            return refuse(reader, "the column has no name.");
        int same = csv_column(csv, csv->header[i]);
        if (same < i)
            return err_set(reader->err, ERR_INPUT,
                           "line %d, column %d: column %d is also named \"%s\".", reader->line,
                           reader->column, same + 1, csv->header[i]);
    }
    return true;
}

static bool take_header(struct reader *reader)
{
    struct csv *csv = &reader->csv;
    const char *field = reader->out;
    int line = reader->line;
    if (!take_row(reader))
        return false;
    int next_line = reader->line;
    csv->columns = reader->column;
    csv->header = alloc_zeroed((size_t)csv->columns, sizeof *csv->header);
    for (int i = 0; i < csv->columns; i++, field = csv_next(field))
        csv->header[i] = field;
    reader->line = line;
    if (!check_header(reader))
        return false;
    reader->line = next_line;
    return true;
}

/* A row with as many fields as the header. */
static bool take_fields(struct reader *reader)
{
    int line = reader->line, columns = reader->csv.columns;
    return take_row(reader) &&
           (reader->column == columns ||
            err_set(reader->err, ERR_INPUT, "line %d, column %d: the row has %d field%s, not %d.",
                    line, reader->column < columns ? reader->column + 1 : columns + 1,
                    reader->column, reader->column == 1 ? "" : "s", columns));
}

static bool take_data(struct reader *reader)
{
    struct csv *csv = &reader->csv;
    struct csv_row row = {.line = reader->line, .at = (uint32_t)(reader->out - csv->memory)};
    if (!take_fields(reader))
        return false;
    csv->rows = alloc_room(csv->rows, csv->row_count, &reader->row_capacity, sizeof *csv->rows);
    csv->rows[csv->row_count++] = row;
    return true;
}

static bool refuse_empty(struct err *err)
{
    return err_set(err, ERR_INPUT, "line 1: the header line with the column names is missing.");
}

static bool take_rows(struct reader *reader)
{
    while (reader->at < reader->end)
        if (at_line_break(reader))
            skip_line_break(reader);
        else if (!(reader->csv.columns == 0 ? take_header(reader) : take_data(reader)))
            return false;
    return reader->csv.columns > 0 || refuse_empty(reader->err);
}

/* Spreadsheets begin a file with it. */
static size_t bom(const struct text *bytes)
{
    return bytes->length >= 3 && memcmp(bytes->data, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

bool csv_parse(struct text *bytes, struct csv *ret, struct err *err)
{
    if (bytes->length > BYTES_MOST)
        return err_set(err, ERR_INPUT, "line 1: the file is larger than 1 GB; split it.");
    struct reader reader = {.at = bytes->data + bom(bytes),
                            .end = bytes->data + bytes->length,
                            .out = bytes->data,
                            .line = 1,
                            .column = 1,
                            .csv.memory = bytes->data,
                            .err = err};
    if (!take_rows(&reader)) {
        free(reader.csv.header);
        free(reader.csv.rows);
        return false;
    }
    *bytes = (struct text){.data = NULL};
    *ret = reader.csv;
    return true;
}

void csv_done(struct csv *csv)
{
    free(csv->header);
    free(csv->rows);
    free(csv->memory);
    *csv = (struct csv){0};
}

/* Puts another block behind what is left of the last one. */
static bool refill(struct csv_reader *reader, struct err *err)
{
    struct text *bytes = reader->bytes;
    if (reader->at > 0) {
        bytes->length -= reader->at;
        memmove(bytes->data, bytes->data + reader->at, bytes->length);
        reader->at = 0;
    }
    size_t before = bytes->length;
    if (reader->more != NULL && !reader->more(reader->source, bytes, err)) {
        reader->failed = true;
        return false;
    }
    reader->whole = bytes->length == before;
    return true;
}

/* The row's bytes are all there when a line break comes that no quote holds, or the file ends. What
 * is longer than any row is refused by who decodes it. */
static bool find_end(struct csv_reader *reader, size_t *ret_end, struct err *err)
{
    bool quoted = false;
    size_t size = 0; /* that has been looked at */
    for (;;) {
        const struct text *bytes = reader->bytes;
        while (reader->at + size < bytes->length) {
            char byte = bytes->data[reader->at + size++];
            if (byte == '"')
                quoted = !quoted;
            if (byte == '\n' && !quoted) {
                *ret_end = reader->at + size;
                return true;
            }
        }
        if (reader->whole || size > ROW_BYTES_MOST) {
            *ret_end = bytes->length;
            return true;
        }
        if (!refill(reader, err))
            return false;
    }
}

/* Goes to the next line that is not empty; the file has ended where `ret` has nothing to read. */
static bool find_row(struct csv_reader *reader, const struct csv *csv, struct reader *ret,
                     struct err *err)
{
    for (;;) {
        size_t end;
        if (!find_end(reader, &end, err))
            return false;
        const char *data = reader->bytes->data;
        *ret = (struct reader){.at = data + reader->at,
                               .end = data + end,
                               .line = reader->line,
                               .column = 1,
                               .csv = *csv,
                               .err = err};
        if (reader->at == end || !at_line_break(ret))
            break;
        skip_line_break(ret);
        reader->line = ret->line;
        reader->at = (size_t)(ret->at - data);
    }
    size_t needs = (size_t)(ret->end - ret->at) + 1;
    if (needs > reader->room) {
        reader->row = alloc_resized(reader->row, 2 * needs, 1);
        reader->room = 2 * needs;
    }
    ret->out = reader->row;
    return true;
}

static void leave_row(struct csv_reader *reader, const struct reader *row)
{
    reader->line = row->line;
    reader->at = (size_t)(row->at - reader->bytes->data);
}

/* The header keeps the memory that it was decoded into. */
bool csv_begin(struct csv_reader *reader, struct csv *ret, struct err *err)
{
    struct reader row;
    struct csv none = {.columns = 0};
    size_t end;
    reader->line = 1;
    if (!find_end(reader, &end, err))
        return false;
    reader->at = bom(reader->bytes);
    if (!find_row(reader, &none, &row, err))
        return false;
    if (row.at == row.end)
        return refuse_empty(err);
    if (!take_header(&row)) {
        free(row.csv.header);
        return false;
    }
    leave_row(reader, &row);
    *ret = row.csv;
    ret->memory = reader->row;
    reader->row = NULL;
    reader->room = 0;
    return true;
}

bool csv_read(struct csv_reader *reader, struct csv *csv, const char **ret_first, int *ret_line,
              struct err *err)
{
    struct reader row;
    if (!find_row(reader, csv, &row, err))
        return false;
    bool ended = row.at == row.end;
    int line = row.line;
    if (!ended && !take_fields(&row))
        return false;
    leave_row(reader, &row);
    csv->row_count += !ended;
    *ret_first = ended ? NULL : reader->row;
    *ret_line = line;
    return true;
}

void csv_reader_done(struct csv_reader *reader)
{
    free(reader->row);
    reader->row = NULL;
    reader->room = 0;
}

const char *csv_next(const char *field)
{
    return field + strlen(field) + 1;
}

const char *csv_first(const struct csv *csv, size_t row)
{
    return csv->memory + csv->rows[row].at;
}

const char *csv_field(const struct csv *csv, size_t row, int column)
{
    const char *field = csv_first(csv, row);
    while (column-- > 0)
        field = csv_next(field);
    return field;
}

int csv_column(const struct csv *csv, const char *name)
{
    for (int i = 0; i < csv->columns; i++)
        if (strcmp(csv->header[i], name) == 0)
            return i;
    return -1;
}

/* Bytes of a field that is nothing but ASCII without a quote or a comma, and begins with a letter
 * or a digit; 0 of any other. Nearly all are: they are no formula and need no quotes. */
static size_t simple_bytes(const char *field)
{
    size_t bytes = utf8_plain(field);
    char first = *field;
    bool word = (first >= '0' && first <= '9') || (first >= 'a' && first <= 'z') ||
                (first >= 'A' && first <= 'Z');
    return word && field[bytes] == '\0' && memchr(field, ',', bytes) == NULL &&
                   memchr(field, '"', bytes) == NULL
               ? bytes
               : 0;
}

void csv_add(struct text *out, const char *field, bool first)
{
    static const char guard[] = {GUARD, '\0'};
    size_t simple = simple_bytes(field);
    if (simple > 0 || *field == '\0') {
        text_add_bytes(out, ",", !first);
        text_add_bytes(out, field, simple);
        return;
    }
    const char *front = is_formula(field) ? guard : "";
    text_add(out, first ? "" : ",");
    if (field[strcspn(field, ",\"\r\n")] == '\0') {
        text_add(out, front);
        text_add(out, field);
        return;
    }
    text_add(out, "\"");
    text_add(out, front);
    for (; *field != '\0'; field++)
        text_add_bytes(out, *field == '"' ? "\"\"" : field, *field == '"' ? 2 : 1);
    text_add(out, "\"");
}

void csv_add_number(struct text *out, long long number, bool first)
{
    enum { DIGITS_MOST = 20 };
    char field[DIGITS_MOST + 3]; /* with comma, sign and end */
    char *at = field + sizeof field - 1;
    unsigned long long rest = number < 0 ? -(unsigned long long)number : (unsigned long long)number;
    *at = '\0';
    do
        *--at = (char)('0' + rest % 10);
    while ((rest /= 10) > 0);
    if (number < 0)
        *--at = '-';
    if (!first)
        *--at = ',';
    text_add_bytes(out, at, (size_t)(field + sizeof field - 1 - at));
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
    text_add(out, ",");
    text_add(out, field);
}

void csv_end_row(struct text *out)
{
    text_add(out, "\n");
}
