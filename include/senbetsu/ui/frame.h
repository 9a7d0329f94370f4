/* What stands around a screen: a title, a message, the keys; and what is shown instead where the
 * terminal is too small. */
#ifndef SENBETSU_UI_FRAME_H
#define SENBETSU_UI_FRAME_H

#include "senbetsu/ui/keys.h"

struct frame {
    const char *title;
    const char *beside;  /* at the right of the title; may be NULL */
    const char *message; /* one sentence above the keys; NULL or "" = none */
    bool alert;          /* the message says that something could not be done */
    const struct key_table *keys;
};

/* The rows that are left for the screen itself. */
struct body {
    int top, rows;
};

/* Clears the grid and draws the frame. */
struct body frame_draw(struct grid *grid, const struct frame *frame);

/* One sentence where the message stands. */
void frame_message(struct grid *grid, enum style style, const char *message);

/* The foot of screens that spare one row for the message: it stands above two rows of keys; one
 * that is too long for its row goes on over those, so that it is never cut at what to do. */
enum { FRAME_FOOT_ROWS = 3 };
void frame_foot(struct grid *grid, enum style style, const char *message,
                const struct key_table *keys);

/* The mark before the selected line, which can be told without colour. */
enum { CURSOR_COLUMN = 1, TEXT_COLUMN = 3 };
void frame_cursor(struct grid *grid, int row);

/* If the grid is under GRID_MIN_COLUMNS × `rows`: says so on it, and that nothing is lost; true. */
bool frame_too_small(struct grid *grid, int rows);

#endif
