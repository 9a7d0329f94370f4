#include "senbetsu/print/fish_row.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

struct fish_ref *fish_sorted(const struct fish_row *rows, size_t count,
                             int (*compare)(const void *, const void *))
{
    struct fish_ref *order = alloc_zeroed(count + 1, sizeof *order);
    for (size_t i = 0; i < count; i++)
        order[i].row = &rows[i];
    qsort(order, count, sizeof *order, compare);
    return order;
}
