/* Reading strokes and summing them up to fish, row by row. */
#ifndef STORE_FOLD_H
#define STORE_FOLD_H

#include "query.h"
#include "senbetsu/core/entry.h"

/* One row of a statement that begins with FOLD_COLUMNS: a fish and, where it has any, an entry. */
struct told {
    int64_t fish;
    int64_t bowl_id;
    int bowl;
    int number;
    int look; /* 0 = no stroke yet: there is no entry */
    int64_t at_ms;
    struct entry entry;
};

void told_read(struct query *query, struct told *ret);

/* How an entry is kept: its `what` and its number; `*ret_null` = it has none. */
const char *entry_stored_what(const struct entry *entry);
bool entry_stored_number(const struct entry *entry, int64_t *ret_number);

/* All rows of the query to fish, in order, and the query's end. */
bool fold(struct query *query, const struct standard *standard, struct fish **ret,
          size_t *ret_count, struct err *err);

#endif
