#include "senbetsu/ui/whisker.h"

#include <stdbool.h>
#include <stdio.h>

static int cell_of(int share, int most, int columns)
{
    int cell = (int)((long long)share * columns / most);
    return cell >= columns ? columns - 1 : cell;
}

/* An interval that goes on beyond the scale has no end. */
static void draw_interval(struct grid *grid, int row, int column, int low, int high, bool ends)
{
    for (int i = low; i <= high; i++)
        grid_put(grid, row, column + i, 1, STYLE_PLAIN, "─");
    grid_put(grid, row, column + low, 1, STYLE_PLAIN, "├");
    grid_put(grid, row, column + high, 1, STYLE_PLAIN, ends ? "┤" : "▸");
}

void whisker_draw(struct grid *grid, int row, int column, int columns, int most,
                  const struct whisker *whisker)
{
    if (whisker->low != NO_SHARE)
        draw_interval(grid, row, column, cell_of(whisker->low, most, columns),
                      cell_of(whisker->high, most, columns), whisker->high <= most);
    if (whisker->counted != NO_SHARE)
        grid_put(grid, row, column + cell_of(whisker->counted, most, columns), 1, STYLE_STRONG,
                 "○");
    if (whisker->expected != NO_SHARE)
        grid_put(grid, row, column + cell_of(whisker->expected, most, columns), 1, STYLE_STRONG,
                 "●");
}

void whisker_scale_draw(struct grid *grid, int row, int column, int columns, int most)
{
    char end[24];
    grid_put(grid, row, column, 1, STYLE_QUIET, "0");
    snprintf(end, sizeof end, "%.3g %%", 100.0 * most / WHOLE_SHARE);
    grid_put_right(grid, row, column + columns, -1, STYLE_QUIET, end);
}
