/* Printed pages, read on screen: lines that scroll, with a rule where a page ends. */
#ifndef SENBETSU_UI_PAGER_H
#define SENBETSU_UI_PAGER_H

#include "senbetsu/ui/list.h"

/* Begins with its list, for the keys that every list has; the current item is the line at the top.
 */
struct pager {
    struct list list;
    char *text; /* the printed pages; lines are cut in place */
    const char **lines;
    size_t line_count;
};

/* Shows these pages (a form feed begins a new one) from about the line that was at the top. */
void pager_set(struct pager *pager, const char *pages);
void pager_done(struct pager *pager);

/* "line 3 of 120": which line is at the top. */
enum { PAGER_PLACE_SIZE = 48 };
void pager_place(const struct pager *pager, char ret_text[PAGER_PLACE_SIZE]);

/* Draws the lines into the body of a frame. */
void pager_draw(struct pager *pager, struct grid *grid, struct body body);

#endif
