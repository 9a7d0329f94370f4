/* A printed page, read on screen before it is printed. */
#ifndef SENBETSU_UI_PAGER_H
#define SENBETSU_UI_PAGER_H

#include "senbetsu/ui/list.h"

enum pager_action { PAGER_SAVE = LIST_ACTION_COUNT, PAGER_PRINT, PAGER_ASCII };

struct pager {
    const char *title;
    bool ascii; /* the page is plain ASCII */
    char *text; /* the printed pages; lines are cut in place */
    const char **lines;
    size_t line_count;
    struct list list; /* its current item is the line at the top */
    const char *message;
    bool alert;
};

/* Shows these pages (a form feed begins a new one) from about the line that was at the top. */
void pager_set(struct pager *view, const char *pages);
void pager_done(struct pager *view);

/* READER_SAVE, READER_PRINT, READER_ASCII, LIST_LEAVE, LIST_HELP; else LIST_NOTHING. */
int pager_key(struct pager *view, struct key key);

void pager_draw(struct grid *grid, struct pager *view);

#endif
