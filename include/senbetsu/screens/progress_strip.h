/* The bowl as a strip of marks: one a fish, where the hand is marked underneath. */
#ifndef SENBETSU_SCREENS_PROGRESS_STRIP_H
#define SENBETSU_SCREENS_PROGRESS_STRIP_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* On two rows of the area: the marks, and under them numbers and the pointer. A tray that is larger
 * than the line is shown around the fish in front, with what is left out at both ends. */
enum { STRIP_ROWS = 2 };
void progress_strip_draw(struct grid *grid, struct area area, const struct sheet *sheet);

#endif
