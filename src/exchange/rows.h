/* The rows of a CSV file as an import takes them: known columns, checked fields, and sentences that
 * name the place. */
#ifndef EXCHANGE_ROWS_H
#define EXCHANGE_ROWS_H

#include "senbetsu/base/csv.h"
#include "senbetsu/core/column.h"
#include "senbetsu/exchange/exchange.h"

enum { COLUMNS_MOST = 20 };

struct rows {
    struct import *import;
    struct csv csv;
    const struct column *columns;
    int column_count;
    int where[COLUMNS_MOST];  /* each known column's place in the file, -1 = it is not there */
    int8_t *known;            /* the known column at each place of the file, -1 = none */
    struct csv_reader reader; /* of a file that is read row by row */
};

/* One row, and where a complaint about it goes. Columns are the indices of the record's table. */
struct row {
    const struct rows *rows;
    struct ledger *ledger;
    int line;
    const char *first; /* its first field; the others follow (csv_next) */
    struct err *err;
};

/* Parses the import's bytes, which are then empty. `more_columns`: others than the known ones are
 * let through. */
bool rows_read(struct import *import, const struct column *columns, int count, bool more_columns,
               struct rows *ret, struct err *err);
void rows_done(struct rows *rows);

/* The same row by row, for files that may be large: rows_take gives one after another, NULL as its
 * first field after the last. A row stands until the next one. */
bool rows_open(struct import *import, const struct column *columns, int count, bool more_columns,
               struct rows *ret, struct err *err);
bool rows_take(struct rows *rows, struct row *ret, struct err *err);

struct row rows_at(const struct rows *rows, size_t index, struct err *err);

/* The known column that stands at `place` in the file, or -1. */
int rows_known(const struct rows *rows, int place);

/* Reads all known columns into the record, which begins as unknown. A field that is empty but
 * required, or does not fit, refuses the row. */
bool row_read(const struct row *row, void *ret_record);

/* A field as it stands; "" where its column is not there. */
const char *row_field(const struct row *row, int column);

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

/* A number of fish and, in the two columns after it, how it was made and its error. */
bool row_check_count(const struct row *row, int column, const struct count *count);

/* Spawnings must be in the ledger; the lot of several must be named. */
bool row_check_lot(const struct row *row, int spawning_column, const char *spawnings,
                   int lot_column, const char *lot);

/* Puts the list's name of a variety in place of what was written; a name that is in no list is
 * added to it, but refused where it is next to one (varieties.c). */
bool row_settle_variety(const struct row *row, int column, char name[CODE_SIZE]);

/* The same for what stands in no row. */
bool import_variety(struct import *import, char name[CODE_SIZE], struct err *err);

/* Counts one row. */
void rows_count(const struct rows *rows, enum saved saved);

/* Writing: the names of the columns, and a record. The caller ends the row. */
void export_names(const struct column *columns, int count, struct text *out);
void export_fields(const struct column *columns, int count, const void *record, struct text *out);

#endif
