/* A number in large figures with a caption above it, to be read from a metre; and lines of small
 * ones beside it. */
#ifndef SENBETSU_UI_COUNTER_H
#define SENBETSU_UI_COUNTER_H

#include "senbetsu/ui/big.h"
#include <stdint.h>

enum { COUNTER_TEXT_SIZE = 64 };

struct counter {
    const char *word;
    enum style style;
    int64_t number;
    char beside[COUNTER_TEXT_SIZE]; /* at the right of the caption */
};

/* Rows that a counter takes at a scale. */
int counter_rows(int scale);

/* The largest scale, 1 or 2, at which all `count` counters fit into so many columns. */
int counter_scale(const struct grid *grid, const struct counter *counters, int count, int columns);

void counter_draw(struct grid *grid, int row, int scale, int columns,
                  const struct counter *counter);

/* Lines at the right edge: a name and what stands beside it. */
enum { MARGIN_COLUMNS = 30, MARGIN_NAME_COLUMNS = 11, MARGIN_VALUE_COLUMNS = 19 };
struct margin {
    struct grid *grid;
    int row, column;
};

void margin_line(struct margin *margin, const char *name, const char *value);

/* `number` < 0 = not known. */
void margin_number(struct margin *margin, const char *name, int64_t number, const char *unit);

#endif
