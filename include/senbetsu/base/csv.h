/* CSV as RFC 4180 has it, UTF-8. Reading keeps every field's line and column for error messages.
 *
 * Parsed whole and not row by row: a file is imported completely or not at all. */
#ifndef SENBETSU_BASE_CSV_H
#define SENBETSU_BASE_CSV_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>
#include <stddef.h>

struct csv_row {
    int line; /* of the file, from 1, where the row begins */
    char **fields;
};

/* Every row has exactly `columns` fields. */
struct csv {
    int columns;
    char **header;
    size_t row_count;
    struct csv_row *rows;
    char *memory; /* all fields point into it */
};

/* Parses a whole file (a BOM is skipped; LF and CRLF; quoted fields may hold line breaks, which are
 * read as LF; wholly empty lines are skipped). Fails, naming line and column ("line 7, column 2:
 * …": the caller puts the file's name before it), on: no header, bytes that are not UTF-8, NUL or
 * other control characters in a field, a quote inside an unquoted field or text after a closing
 * quote, a quoted field that never ends, an empty or repeated column name, a row with too many or
 * too few fields. `ret` is untouched on failure. */
bool csv_parse(const char *bytes, size_t length, struct csv *ret, struct err *err);
void csv_done(struct csv *csv);

/* The column named `name`, or -1. */
int csv_column(const struct csv *csv, const char *name);

/* Writing: fields are separated and quoted as needed, rows end in LF. */
void csv_add(struct text *out, const char *field, bool first);
void csv_add_number(struct text *out, long long number, bool first);
void csv_end_row(struct text *out);

/* An empty field where the number is not `known`. Never a row's first. */
void csv_add_known(struct text *out, bool known, long long number);

/* Ten digits that count; an empty field where the number is not `known`. Never a row's first. */
void csv_add_real(struct text *out, bool known, double number);

#endif
