/* Records in the ledger by their table of columns (core/column.h): bound, read, and what the
 * audit log keeps of a change. */
#ifndef STORE_RECORD_H
#define STORE_RECORD_H

#include "query.h"
#include "senbetsu/core/column.h"

/* Binds `{… values}` in one go. Texts are not copied. */
void query_record(struct query *query, const struct column *columns, int count, const void *record);

/* Reads `{…}` in one go. */
void row_record(struct query *query, const struct column *columns, int count, void *record);

/* Whose record is changed, and who changes it. */
struct change {
    const char *table;
    int64_t record; /* the row's id there */
    int64_t judge;
    const char *why;
};

/* Adds one row to the audit log. Inside a transaction only. */
bool audit_log_add(struct ledger *ledger, const struct change *change, const char *column,
                   const char *was, const char *becomes, struct err *err);

/* One row for every column that differs. */
bool audit_log_compare(struct ledger *ledger, const struct change *change,
                       const struct column *columns, int count, const void *was,
                       const void *becomes, struct err *err);

#endif
