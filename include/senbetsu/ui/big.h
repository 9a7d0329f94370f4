/* Large letters, readable from a metre: three rows of blocks, for numbers and verdicts. */
#ifndef SENBETSU_UI_BIG_H
#define SENBETSU_UI_BIG_H

#include "senbetsu/ui/grid.h"

enum { BIG_ROWS = 3, BIG_COLUMNS = 4, BIG_GAP = 1 };

/* Columns that `text` takes at `scale` (1, 2, …: every dot becomes scale × scale). */
int big_width(const char *text, int scale);

/* Draws digits and the letters of the verdicts with the top left corner at (row, column);
 * what the font does not have is left blank. */
void big_draw(struct grid *grid, int row, int column, int scale, enum style style,
              const char *text);

#endif
