/* Rates with their intervals on one scale, told apart by their characters alone. */
#ifndef SENBETSU_UI_WHISKER_H
#define SENBETSU_UI_WHISKER_H

#include "senbetsu/ui/grid.h"

/* Shares are in millionths. */
enum { WHOLE_SHARE = 1000000, NO_SHARE = -1 };

struct whisker {
    int counted;   /* NO_SHARE = none; what is beyond the scale stands at its end */
    int expected;  /* NO_SHARE = none */
    int low, high; /* NO_SHARE = no interval */
};

/* "├──○──●──┤": ○ what was counted, ● what is expected, which stands over it where both meet. The
 * scale runs from 0 to `most` (> 0) over `columns` cells; an interval that goes on beyond it ends
 * in "▸". */
void whisker_draw(struct grid *grid, int row, int column, int columns, int most,
                  const struct whisker *whisker);

/* Over such charts: 0 at the left, the end of the scale at the right. */
void whisker_scale_draw(struct grid *grid, int row, int column, int columns, int most);

#endif
