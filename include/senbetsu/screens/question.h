/* The one line that says what the next key is for. */
#ifndef SENBETSU_SCREENS_QUESTION_H
#define SENBETSU_SCREENS_QUESTION_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* The aspect under the hand with its scale, or what is being picked, chosen or typed; as wide as
 * the grid. */
void question_draw(struct grid *grid, int row, const struct sheet *sheet);

#endif
