/* The day's tally at the edge of the sheet. */
#ifndef SENBETSU_SCREENS_SIDE_PANEL_H
#define SENBETSU_SCREENS_SIDE_PANEL_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* Bowl and round with their counts, the pace, the places and the running cut line. */
enum { EDGE_COLUMNS = 18, EDGE_ROWS = 9 };
void side_panel_draw(struct grid *grid, struct area area, const struct sheet *sheet);

#endif
