#include "senbetsu/ui/notice.h"

bool notice_too_small(struct grid *grid)
{
    if (grid->columns >= GRID_MIN_COLUMNS && grid->rows >= GRID_MIN_ROWS)
        return false;
    grid_clear(grid);
    grid_put(grid, 0, 0, -1, STYLE_STRONG, "Too small:");
    grid_putf(grid, 1, 0, -1, STYLE_PLAIN, "%d × %d; needs", grid->columns, grid->rows);
    grid_putf(grid, 2, 0, -1, STYLE_PLAIN, "%d × %d.", GRID_MIN_COLUMNS, GRID_MIN_ROWS);
    grid_put(grid, 3, 0, -1, STYLE_PLAIN, "Nothing is lost.");
    grid_put(grid, 4, 0, -1, STYLE_PLAIN, "Make it larger.");
    return true;
}
