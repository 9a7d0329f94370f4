/* What stands on a screen that is too small for anything else. */
#ifndef SENBETSU_UI_NOTICE_H
#define SENBETSU_UI_NOTICE_H

#include "senbetsu/ui/grid.h"
#include <stdbool.h>

/* If the grid is under GRID_MIN_COLUMNS × GRID_MIN_ROWS: says so on it, and that nothing is lost;
 * true. */
bool notice_too_small(struct grid *grid);

#endif
