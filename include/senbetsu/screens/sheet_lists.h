/* What is judged of the fish in front: aspects with their scores, faults with what they do. */
#ifndef SENBETSU_SCREENS_SHEET_LISTS_H
#define SENBETSU_SCREENS_SHEET_LISTS_H

#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"

/* One row an aspect; where there are more than rows, the list is shown around the hand. `page` is
 * the pick layer's. The wider the area the more is told: scale, floor, weight, in a second look the
 * earlier scores. */
void aspects_draw(struct grid *grid, struct area area, const struct sheet *sheet,
                  const struct letters *letters, int page);

/* The faults in as many columns as it takes to show all of them. */
void faults_draw(struct grid *grid, struct area area, const struct sheet *sheet,
                 const struct letters *letters, int page);

/* Into how many columns the faults go on so many rows. */
int fault_columns(const struct standard *standard, int rows);

#endif
