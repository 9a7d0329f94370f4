/* Which row of a file has a name: the rows in order of the column that names them. */
#ifndef EXCHANGE_ROW_NAMES_H
#define EXCHANGE_ROW_NAMES_H

#include "rows.h"

enum { NO_ROW = -1 };

struct row_names {
    const struct rows *rows;
    int column, count;
    struct named_row *sorted; /* by name, and then as they stand in the file */
};

/* `column` is the index of the record's table. The rows must live as long. */
void row_names_init(struct row_names *names, const struct rows *rows, int column);
void row_names_done(struct row_names *names);

/* The first row of this name, or NO_ROW. */
int row_named(const struct row_names *names, const char *name);

/* Refuses row number `index` where an earlier one has its name. */
bool row_names_check(const struct row_names *names, const struct row *row, int index);

#endif
