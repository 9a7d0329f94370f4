/* Counters of a tally. They grow to twice the size where the screen is high enough and every number
 * still fits, all or none, so that they can be compared at a glance. */
#include "senbetsu/ui/counter.h"
#include "senbetsu/base/number.h"

#include <inttypes.h>
#include <stdio.h>

enum { GAP = 1, ROOMY_ROWS = 36, BESIDE_LEAVES = 10 };

static const char *number_text(const struct counter *counter, char ret_text[NUMBER_SIZE])
{
    snprintf(ret_text, NUMBER_SIZE, "%" PRId64, counter->number);
    return ret_text;
}

int counter_rows(int scale)
{
    return 1 + scale * BIG_ROWS;
}

int counter_scale(const struct grid *grid, const struct counter *counters, int count, int columns)
{
    int scale = grid->rows >= ROOMY_ROWS ? 2 : 1;
    char number[NUMBER_SIZE];
    for (int i = 0; i < count; i++)
        if (big_width(number_text(&counters[i], number), scale) + 2 * GAP > columns)
            scale = 1;
    return scale;
}

void counter_draw(struct grid *grid, int row, int scale, int columns, const struct counter *counter)
{
    char number[NUMBER_SIZE];
    number_text(counter, number);
    grid_fill(grid, (struct area){row, 0, 1, columns}, counter->style);
    grid_put(grid, row, GAP, columns - GAP, counter->style, counter->word);
    grid_put_right(grid, row, columns - GAP, columns - BESIDE_LEAVES, counter->style,
                   counter->beside);
    if (GAP + big_width(number, scale) <= columns)
        big_draw(grid, row + 1, GAP, scale, counter->style, number);
}

void margin_line(struct margin *margin, const char *name, const char *value)
{
    grid_put(margin->grid, margin->row, margin->column, MARGIN_NAME_COLUMNS - 1, STYLE_QUIET, name);
    grid_put(margin->grid, margin->row, margin->column + MARGIN_NAME_COLUMNS, MARGIN_VALUE_COLUMNS,
             STYLE_PLAIN, value);
    margin->row++;
}

void margin_number(struct margin *margin, const char *name, int64_t number, const char *unit)
{
    char value[64];
    if (number < 0)
        snprintf(value, sizeof value, "not known");
    else
        snprintf(value, sizeof value, "%" PRId64 "%s", number, unit);
    margin_line(margin, name, value);
}
