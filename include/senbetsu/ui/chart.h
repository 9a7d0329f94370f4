/* Shares drawn to scale on one row, told apart by their characters alone: a rate with its interval,
 * and a bar. Shares are fractions of one. */
#ifndef SENBETSU_UI_CHART_H
#define SENBETSU_UI_CHART_H

#include "senbetsu/ui/grid.h"

#define NO_SHARE (-1.0)

/* Each NO_SHARE where it is not known. What is beyond the scale stands at its end. */
struct whisker {
    double counted, expected;
    double low, high; /* of the interval */
};

/* "├──○──●──┤": ○ what was counted, ● what is expected, which stands over it where both meet. The
 * scale runs from 0 to `end` (> 0) over the area; an interval that goes on beyond it ends in "▸".
 */
void whisker_draw(struct grid *grid, struct area area, double end, const struct whisker *whisker);

/* The end of a scale on which a share fits: 1, 2 or 5 with noughts, from 0.01 % up. */
double chart_scale(double most);

/* Over such charts: 0 at the left, the end of the scale at the right. */
void whisker_scale_draw(struct grid *grid, struct area area, double end);

/* "███▒▒··": full up to `low`, half full up to `high`, on a scale from 0 to 1. */
void bar_draw(struct grid *grid, struct area area, double low, double high);

#endif
