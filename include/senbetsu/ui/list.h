/* A list with a cursor: moving, paging, keeping the selected item in sight, and columns by a table.
 * An item may take several rows, so the list is drawn by letting each item draw itself where the
 * next row is; what has scrolled out of sight is not asked to draw.
 *
 * Finding goes by what an item draws: whatever can be read in its lines can be typed. */
#ifndef SENBETSU_UI_LIST_H
#define SENBETSU_UI_LIST_H

#include "senbetsu/ui/frame.h"

enum { LIST_FIND_SIZE = 48 };

struct list {
    int count;   /* items */
    int current; /* the selected item, 0 where there is none */
    struct list_top {
        int item, cut; /* the item at the top of the screen; its rows that are scrolled out */
    } top;
    int page; /* items that a page key moves by, set when the list is drawn */
    struct list_find {
        bool on;
        char text[LIST_FIND_SIZE];
        int from;    /* where the cursor was when finding began */
        int at;      /* the item found last: finding goes on from there */
        int step;    /* where to look when the list is drawn next: 0 = from there, 1 = after
                        it; -1 = the cursor stays */
        bool absent; /* no item has the text */
    } find;
};

/* Sets the number of items and keeps the cursor within it. */
void list_count(struct list *list, int count);

/* Moves the cursor to an item, or as near as there is one. */
void list_to(struct list *list, int item);

/* The keys that every list has, to be shared by the table of a screen whose state begins with its
 * `struct list`. */
extern const struct key_table list_keys;

/* What is typed while something is searched for. False: finding is over or was not on, and the key
 * means what it always does. */
bool list_find_key(struct list *list, struct key key);

/* Where the next row of a list goes on the screen. */
struct rows {
    int top, visible; /* the screen rows that the list may use */
    int skipped;      /* rows that have scrolled out above */
    int next;
};

/* The screen row, or -1 where it is out of sight: the grid draws nothing there. */
int rows_next(struct rows *rows);

/* The same for an item's first row: the cursor stands before it where the item is selected. */
int rows_begin(struct rows *rows, struct grid *grid, bool selected);

/* Draws one item on as many rows as it takes. */
typedef void draw_item(struct grid *grid, struct rows *rows, const void *model, int item,
                       bool selected);

/* Finds what is typed, if anything is, and says so where the message stands; `list_draw` does it by
 * itself. */
void list_find_draw(struct list *list, struct grid *grid, draw_item *draw, const void *model);

/* Draws the items that fit into the body, the selected one among them. */
void list_draw(struct list *list, struct grid *grid, struct body body, draw_item *draw,
               const void *model);

/* A table's columns, side by side from TEXT_COLUMN on: what stands over them and how an item is
 * worded in each. */
enum { COLUMN_TEXT_SIZE = 160 };
struct list_column {
    const char *heading; /* NULL = none */
    int gap, width; /* blank cells before it; its own, 0 or less = all that are left but so many */
    bool right;     /* aligned at its end */
    enum style style;
    /* How an item is worded; NULL where the caller draws into column_area himself. */
    void (*text)(const void *item, char ret_text[COLUMN_TEXT_SIZE]);
};

/* Where the column at `index` stands on this row. */
struct area column_area(const struct grid *grid, int row, const struct list_column *columns,
                        int index);

void columns_heading(struct grid *grid, int row, const struct list_column *columns, int count);
/* `plain` stands for STYLE_PLAIN: an item that stands out does so as a whole. */
void columns_draw(struct grid *grid, int row, const struct list_column *columns, int count,
                  const void *item, enum style plain);

#endif
