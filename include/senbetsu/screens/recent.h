/* The fish before the one in front, where the screen has room for them. */
#ifndef SENBETSU_SCREENS_RECENT_H
#define SENBETSU_SCREENS_RECENT_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* One a row, the nearest first: number, verdict, score or reason. */
void recent_draw(struct grid *grid, struct area area, const struct sheet *sheet);

#endif
