/* The history of office records: what a field was before it was changed. */
#ifndef STORE_AMENDMENTS_H
#define STORE_AMENDMENTS_H

#include "private.h"
#include "senbetsu/base/number.h"
#include "senbetsu/store/spawnings.h"

/* A field of a record as text; both sides of a change list the same fields in the same order. */
struct field {
    const char *name;
    char value[SIRES_SIZE];
};

struct change {
    const char *kind; /* the table */
    int64_t record;   /* the row's id there */
    int64_t judge;
    const char *why;
};

struct field field_text(const char *name, const char *value);
struct field field_number(const char *name, int64_t number, int64_t absent);

bool fields_equal(const struct field *was, const struct field *becomes, size_t count);

/* One amendment for every field that differs. Inside a transaction only. */
bool amendments_record(struct ledger *ledger, const struct change *change, const struct field *was,
                       const struct field *becomes, size_t count, struct err *err);

#endif
