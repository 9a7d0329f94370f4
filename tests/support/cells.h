/* The fields of one row of a table as an array, for tests that know their places by heart. */
#ifndef SENBETSU_TESTS_SUPPORT_CELLS_H
#define SENBETSU_TESTS_SUPPORT_CELLS_H

#include "senbetsu/base/csv.h"

enum { CELLS = 32 };

static inline void cells_of(const struct csv *csv, size_t row, const char *ret[CELLS])
{
    const char *field = csv_first(csv, row);
    for (int i = 0; i < csv->columns && i < CELLS; i++, field = csv_next(field))
        ret[i] = field;
}

#endif
