/* The rows of a CSV file as an import takes them: known columns, checked fields, and sentences that
 * name the place. */
#ifndef SENBETSU_EXCHANGE_CSV_ROWS_H
#define SENBETSU_EXCHANGE_CSV_ROWS_H

#include "senbetsu/base/csv.h"
#include "senbetsu/core/count.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/exchange/import.h"
#include "senbetsu/store/spawnings.h"

struct column {
    const char *name;
    bool required; /* the file must have it, and no field of it may be empty */
};

enum { COLUMNS_MOST = 20 };

struct rows {
    const char *file;
    struct csv csv;
    const struct column *columns;
    int column_count;
    int where[COLUMNS_MOST]; /* each known column's place in the file, -1 = it is not there */
};

/* One row, and where a complaint about it goes. */
struct row {
    const struct rows *rows;
    int line;
    char **fields;
    struct err *err;
};

/* Parses the import's bytes. `more_columns`: others than the known ones are let through. */
bool rows_read(const struct import *import, const struct column *columns, int count,
               bool more_columns, struct rows *ret, struct err *err);
void rows_done(struct rows *rows);

struct row rows_at(const struct rows *rows, size_t index, struct err *err);

/* The known column that stands at `place` in the file, or -1. */
int rows_known(const struct rows *rows, int place);

/* Fails with "fish.csv, line 7, column 9 (length_mm): " before the sentence. `place` counts the
 * file's own columns from 0. */
bool row_refuse_at(const struct row *row, int place, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The same for a known column. */
bool row_refuse(const struct row *row, int column, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Refuses the row for what the ledger said against it; a ledger that could not answer (busy, out of
 * space) is no fault of the row's and keeps its own sentence. */
bool row_refuse_as(const struct row *row, int column, const struct err *why);

/* A field as it stands; "" where its column is not there. */
const char *row_field(const struct row *row, int column);

/* Fields, checked. An empty one leaves `ret` as it is unless the column is required; then, and
 * where the field does not fit, the row is refused. */
bool row_code(const struct row *row, int column, char *ret, size_t size);
bool row_note(const struct row *row, int column, char *ret, size_t size);
bool row_whole(const struct row *row, int column, int64_t lowest, int64_t highest,
               int64_t *ret_number);
bool row_term(const struct row *row, int column, const struct term *terms, int count,
              int *ret_index);
bool row_date(const struct row *row, int column, char ret_date[11]);

/* A number of fish and, in the two known columns after it, how it was made and its error. */
bool row_count(const struct row *row, int column, struct count *ret);

/* The codes of spawnings in the ledger: one, or several separated by ';'. */
bool row_spawnings(const struct row *row, int column, struct ledger *ledger, char ret[SIRES_SIZE]);

/* The code of a lot of these spawnings; of several it must be named. */
bool row_lot(const struct row *row, int column, int spawning_column, const char *spawnings,
             char ret[CODE_SIZE]);

#endif
