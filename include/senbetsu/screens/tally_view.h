/* The tally's screen: two large numbers, the reasons with their keys, pace and time beside them. */
#ifndef SENBETSU_SCREENS_TALLY_VIEW_H
#define SENBETSU_SCREENS_TALLY_VIEW_H

#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/tally_sheet.h"
#include "senbetsu/ui/grid.h"

/* Reasons that a digit names at once, and how many a page of the further ones has. */
enum { TALLY_DIRECT = 9, TALLY_PAGE = 10 };

/* For grids of GRID_MIN_COLUMNS × GRID_MIN_ROWS and more. */
void tally_view_draw(struct grid *grid, const struct tally_sheet *sheet,
                     const struct letters *letters, int page);

#endif
