/* A fish as lists and tables show it: every number already text or whole, so that print needs no
 * ledger. */
#ifndef SENBETSU_PRINT_FISH_ROW_H
#define SENBETSU_PRINT_FISH_ROW_H

#include "senbetsu/report/pass_run.h"
#include <stddef.h>

/* Rows in another order, without copying them. */
struct fish_ref {
    const struct fish_row *row;
};

/* `count` references ordered by `compare`, which is given two of them; free with free(). */
struct fish_ref *fish_sorted(const struct fish_row *rows, size_t count,
                             int (*compare)(const void *, const void *));

#endif
