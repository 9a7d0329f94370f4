/* Large letters, readable from a metre: five rows of blocks, for numbers and verdicts. */
#ifndef SENBETSU_UI_BIG_H
#define SENBETSU_UI_BIG_H

#include "senbetsu/ui/grid.h"

enum { BIG_ROWS = 5, BIG_COLUMNS = 6, BIG_GAP = 1 };

/* Columns that `text` takes at `scale` (1, 2, …: every block becomes scale × scale). */
int big_width(const char *text, int scale);

/* Draws digits, the letters of the verdicts and blanks with the top left corner at (row, column);
 * what the font does not have is left blank. */
void big_draw(struct grid *grid, int row, int column, int scale, enum style style,
              const char *text);

#endif
