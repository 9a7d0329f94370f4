/* The last verdict in large letters on a plate of its colour. */
#ifndef SENBETSU_SCREENS_VERDICT_BANNER_H
#define SENBETSU_SCREENS_VERDICT_BANNER_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* The first row of the area is the caption: which fish, its score and the reason. */
enum { PLATE_COLUMNS = 43 };
void verdict_banner_draw(struct grid *grid, struct area area, const struct sheet *sheet);

#endif
