/* What the tally's screen looks like: two large numbers, the reasons with their keys below them,
 * pace and time beside them. */
#ifndef SENBETSU_SCREENS_TALLY_VIEW_H
#define SENBETSU_SCREENS_TALLY_VIEW_H

#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/tally_sheet.h"
#include "senbetsu/ui/keys.h"

/* Reasons that a digit names at once, and how many a page of the further ones has. */
enum { TALLY_DIRECT = 9, TALLY_PAGE = 10 };

struct tally_view {
    const struct tally_sheet *sheet;
    const struct letters *letters;
    int page; /* of the further reasons */
    const char *title, *judge;
    const char *said;             /* instead of the tally's own message; NULL or "" = nothing */
    bool alert;                   /* and it says that something could not be done */
    const struct key_table *keys; /* of the mode: the footer */
};

/* For grids of GRID_MIN_COLUMNS × GRID_MIN_ROWS and more. */
void tally_view_draw(struct grid *grid, const struct tally_view *view);

#endif
