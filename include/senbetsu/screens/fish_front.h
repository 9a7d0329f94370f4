/* The fish in the hand, large. */
#ifndef SENBETSU_SCREENS_FISH_FRONT_H
#define SENBETSU_SCREENS_FISH_FRONT_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* Its number in large letters with a caption above, and how far it is. */
void fish_front_draw(struct grid *grid, struct area area, const struct sheet *sheet, int scale);

#endif
