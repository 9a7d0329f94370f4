/* The audit log: what a record began with, and every change of a field of it, with who made it,
 * when and why. Entries are only ever added, so that what was known at any time can be told, and so
 * that a join can work the records out from the entries of two stations
 * (docs/decisions/stations.md). Entries are added when the record is written already. */
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

/* Adds one entry to the audit log. Inside a transaction only. */
bool audit_log_add(struct ledger *ledger, const struct change *change, const char *column,
                   const char *was, const char *becomes, struct err *err);

/* The same of an instant that the record itself keeps: one later than all entries about the field.
 */
bool audit_log_add_at(struct ledger *ledger, const struct change *change, const char *column,
                      const char *was, const char *becomes, int64_t at_ms, struct err *err);

/* What the record began with; nothing where it is unknown: "". */
bool audit_log_begin(struct ledger *ledger, const struct change *change, const char *column,
                     const char *begins, struct err *err);

/* The same for every column that is known. */
bool audit_log_begin_record(struct ledger *ledger, const struct change *change,
                            const struct column *columns, int count, const void *record,
                            struct err *err);

/* One entry for every column that differs. */
bool audit_log_compare(struct ledger *ledger, const struct change *change,
                       const struct column *columns, int count, const void *was,
                       const void *becomes, struct err *err);

#endif
