/* A printed page, read on screen before it is printed. */
#ifndef SENBETSU_UI_READER_VIEW_H
#define SENBETSU_UI_READER_VIEW_H

#include "senbetsu/ui/scroll.h"

enum reader_action { READER_SAVE = LIST_ACTION_COUNT, READER_PRINT, READER_ASCII };

struct reader_view {
    const char *title;
    bool ascii; /* the page is plain ASCII */
    char *text; /* the printed pages; lines are cut in place */
    const char **lines;
    size_t line_count;
    struct scroll scroll; /* its current item is the line at the top */
    const char *message;
    bool alert;
};

/* Shows these pages (a form feed begins a new one) from about the line that was at the top. */
void reader_set(struct reader_view *view, const char *pages);
void reader_done(struct reader_view *view);

/* READER_SAVE, READER_PRINT, READER_ASCII, LIST_LEAVE, LIST_HELP; else LIST_NOTHING. */
int reader_key(struct reader_view *view, struct key key);

void reader_draw(struct grid *grid, struct reader_view *view);

#endif
