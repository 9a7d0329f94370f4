/* A standard's scores side by side. */
#ifndef SENBETSU_SCREENS_SCALE_H
#define SENBETSU_SCREENS_SCALE_H

#include "senbetsu/core/standard.h"
#include "senbetsu/ui/grid.h"

int scale_columns(const struct standard *standard);

/* " 1  2 [3] 4  5 ": the score given stands in square brackets; while there is none (SCORE_NONE),
 * the typical one in round ones. Returns the columns used. */
int scale_draw(struct grid *grid, int row, int column, enum style style,
               const struct standard *standard, int score);

#endif
