/* What has to go to the terminal so that it shows a grid. For term.c, which has set it up. */
#ifndef UI_TERM_PAINT_H
#define UI_TERM_PAINT_H

#include "senbetsu/ui/grid.h"

#include <stdbool.h>

/* Adds what the terminal's description has under this name of terminfo, without the pauses
 * ("$<2>") that terminals of old needed; nothing where it has none. */
void capability_add(const char *name, struct text *out);

/* Learns how this terminal is told; false where its cursor cannot be put anywhere. */
bool painter_begin(bool colours, bool unicode);
void painter_end(void);

/* Anything may stand on the terminal: the next grid is painted whole. */
void painter_forget(void);

/* Adds to `out` what makes the terminal, of so many rows and columns, show the grid: where it
 * differs from what was painted last, and nothing where it does not. */
void paint(const struct grid *grid, int rows, int columns, struct text *out);

/* What a terminal can show of a cell; the right half of a wide character that is shown whole has
 * nothing of its own. */
const char *cell_shown(const struct cell *cell, bool unicode, char ascii[2]);

#endif
