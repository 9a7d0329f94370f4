/* The audit log: every change of a field of a record, with who made it, when and why. Rows are only
 * ever added, so that what was known at any time can be told. */
#ifndef STORE_AUDIT_LOG_H
#define STORE_AUDIT_LOG_H

#include "query.h"

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
