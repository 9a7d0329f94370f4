/* The names of all rows are sorted once, so that a file is compared with itself in little more than
 * one pass, however long it is. */
#include "row_names.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

struct named_row {
    const char *name;
    int row;
};

static int compare(const void *left, const void *right)
{
    const struct named_row *a = left, *b = right;
    int order = strcmp(a->name, b->name);
    return order != 0 ? order : a->row - b->row;
}

void row_names_init(struct row_names *names, const struct rows *rows, int column)
{
    *names = (struct row_names){
        .rows = rows,
        .column = column,
        .count = (int)rows->csv.row_count,
        .sorted = alloc_zeroed(rows->csv.row_count, sizeof *names->sorted),
    };
    for (int i = 0; i < names->count; i++) {
        struct row row = rows_at(rows, (size_t)i, NULL);
        names->sorted[i] = (struct named_row){row_field(&row, column), i};
    }
    qsort(names->sorted, (size_t)names->count, sizeof *names->sorted, compare);
}

void row_names_done(struct row_names *names)
{
    free(names->sorted);
}

int row_named(const struct row_names *names, const char *name)
{
    int low = 0, high = names->count;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (strcmp(names->sorted[middle].name, name) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    bool found = low < names->count && strcmp(names->sorted[low].name, name) == 0;
    return found ? names->sorted[low].row : NO_ROW;
}

bool row_names_check(const struct row_names *names, const struct row *row, int index)
{
    const char *name = row_field(row, names->column);
    int first = row_named(names, name);
    return first == index || row_refuse(row, names->column, "%s is already on line %d.", name,
                                        names->rows->csv.rows[first].line);
}
