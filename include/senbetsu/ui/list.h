/* A list with one line in front: what home, rounds, bowls, pass and reader have in common. */
#ifndef SENBETSU_UI_LIST_H
#define SENBETSU_UI_LIST_H

#include "senbetsu/ui/frame.h"

/* What a key can ask for on every list; a screen's own actions follow. */
enum list_action {
    LIST_NOTHING,
    LIST_UP,
    LIST_DOWN,
    LIST_PAGE_UP,
    LIST_PAGE_DOWN,
    LIST_FIRST,
    LIST_LAST,
    LIST_CHOOSE,
    LIST_HELP,
    LIST_LEAVE,
    LIST_ACTION_COUNT,
};

struct list {
    int count;   /* items */
    int current; /* the item in front, 0 where there is none */
    int top;     /* rows scrolled out above; an item may take several */
    int page;    /* items that a page key moves by, set when the list is drawn */
};

/* Sets the number of items and keeps the one in front within it. */
void list_count(struct list *list, int count);
void list_to(struct list *list, int item);

/* The action bound to this key in this context. Moves are carried out here and give
 * LIST_NOTHING. */
int list_key(struct list *list, enum context context, struct key key);

/* Where the next row of a list goes on the screen. */
struct rows {
    int top, visible; /* the screen rows that the list may use */
    int skipped;      /* rows that have scrolled out above */
    int next;
};

/* The screen row, or -1 where it is out of sight: the grid draws nothing there. */
int rows_next(struct rows *rows);

/* Draws one item on as many rows as it takes. */
typedef void (*draw_item)(struct grid *grid, struct rows *rows, const void *model, int item,
                          bool front);

/* Draws the items that fit into the body, the one in front among them. */
void list_draw(struct list *list, struct grid *grid, struct body body, draw_item draw,
               const void *model);

#endif
