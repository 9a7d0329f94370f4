#include "senbetsu/base/text.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

static size_t least(size_t a, size_t b, size_t c)
{
    size_t smaller = a < b ? a : b;
    return smaller < c ? smaller : c;
}

/* `row[j]` is the distance of what was read of `a` from the first j bytes of `b`. */
size_t text_distance(const char *a, const char *b)
{
    size_t columns = strlen(b);
    size_t *row = alloc_zeroed(columns + 1, sizeof *row);
    for (size_t j = 0; j <= columns; j++)
        row[j] = j;
    for (; *a != '\0'; a++) {
        size_t before = row[0]++;
        for (size_t j = 0; j < columns; j++) {
            size_t change = before + (*a != b[j]);
            before = row[j + 1];
            row[j + 1] = least(change, before + 1, row[j] + 1);
        }
    }
    size_t distance = row[columns];
    free(row);
    return distance;
}
