/* The sheet's screen: one fish in front, the bowl as a strip, the day at the edge. */
#ifndef SENBETSU_SCREENS_SHEET_VIEW_H
#define SENBETSU_SCREENS_SHEET_VIEW_H

#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* For grids of GRID_MIN_COLUMNS × GRID_MIN_ROWS and more. */
void sheet_view_draw(struct grid *grid, const struct sheet *sheet, const struct letters *letters,
                     int page);

#endif
