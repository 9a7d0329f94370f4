/* CSV as RFC 4180 has it, UTF-8. Reading keeps every field's line and column for error messages.
 *
 * Whole, or row by row where a file may be too large to be held. */
#ifndef SENBETSU_BASE_CSV_H
#define SENBETSU_BASE_CSV_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { CSV_COLUMNS_MOST = 1000, CSV_FIELD_LONGEST = 10000 /* bytes */ };

struct csv_row {
    int line;    /* of the file, from 1, where the row begins */
    uint32_t at; /* where in `memory` its first field begins */
};

/* Every row has exactly `columns` fields. They stand in `memory` one after another, each with its
 * end. */
struct csv {
    int columns;
    const char **header;
    size_t row_count;
    struct csv_row *rows;
    char *memory;
};

/* Parses a whole file (a BOM is skipped; LF and CRLF; quoted fields may hold line breaks, which are
 * read as LF; wholly empty lines are skipped; the apostrophe that csv_add puts before what would
 * be a formula is taken off). The bytes are decoded in place: `bytes` is emptied and its memory is
 * the csv's; after a failure it holds nothing of use, but is still the caller's.
 *
 * Fails, naming line and column ("line 7, column 2: …": the caller puts the file's name before
 * it), on: no header, bytes that are not UTF-8, NUL or other control characters in a field, line
 * ends of CR alone, a field or a row that is too long, a quote inside an unquoted field or text
 * after a closing quote, a quoted field that never ends, an empty or repeated column name, a row
 * with too many or too few fields, more than 1 GB. `ret` is untouched on failure. */
bool csv_parse(struct text *bytes, struct csv *ret, struct err *err);
void csv_done(struct csv *csv);

/* Row by row: a file of any length, of which only a block and a row are held. */
struct csv_reader {
    struct text *bytes; /* the caller's; what has been read is taken off */
    /* Appends what comes next in the file to the bytes, nothing at its end. NULL = they are all. */
    bool (*more)(void *source, struct text *bytes, struct err *err);
    void *source;
    bool failed; /* `more` did: the sentence is its own and names no line */
    bool whole;  /* nothing comes after the bytes */
    size_t at;   /* where in the bytes the next row begins */
    int line;    /* of the file, there */
    char *row;   /* decoded */
    size_t room;
};

/* Reads the header into `ret`, which csv_done frees; its rows are only counted as they come. The
 * reader has its bytes, and more and source where there are any; it is to be freed by
 * csv_reader_done whatever came of it. */
bool csv_begin(struct csv_reader *reader, struct csv *ret, struct err *err);

/* The next row's first field, which stands until the next call, and its line; NULL after the last
 * row. Fails as csv_parse does, in the order of the file. */
bool csv_read(struct csv_reader *reader, struct csv *csv, const char **ret_first, int *ret_line,
              struct err *err);
void csv_reader_done(struct csv_reader *reader);

/* The first field of a row, and the one after a field of the same row: the way through a whole row.
 * csv_field begins at the first for every call. */
const char *csv_first(const struct csv *csv, size_t row);
const char *csv_next(const char *field);
const char *csv_field(const struct csv *csv, size_t row, int column);

/* The column named `name`, or -1. */
int csv_column(const struct csv *csv, const char *name);

/* Writing: fields are separated and quoted as needed, rows end in LF. A text that a spreadsheet
 * would run as a formula (it begins with = + - @ or a tab, also after blanks) gets an apostrophe in
 * front; numbers stay numbers. */
void csv_add(struct text *out, const char *field, bool first);
void csv_add_number(struct text *out, long long number, bool first);
void csv_end_row(struct text *out);

/* An empty field where the number is not `known`. Never a row's first. */
void csv_add_known(struct text *out, bool known, long long number);

/* Ten digits that count; an empty field where the number is not `known`. Never a row's first. */
void csv_add_real(struct text *out, bool known, double number);

#endif
