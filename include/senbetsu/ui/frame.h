/* What stands around every screen but the sheet: a title, a message, the keys. */
#ifndef SENBETSU_UI_FRAME_H
#define SENBETSU_UI_FRAME_H

#include "senbetsu/ui/bindings.h"
#include <stdbool.h>

struct frame {
    const char *title;
    const char *beside;  /* at the right of the title; may be NULL */
    const char *message; /* one sentence above the keys; NULL or "" = none */
    bool alert;          /* the message says that something could not be done */
    enum context context;
};

/* The rows that are left for the screen itself. */
struct body {
    int top, rows;
};

/* Clears the grid and draws the frame. */
struct body frame_draw(struct grid *grid, const struct frame *frame);

/* The mark before the line in front, and a brighter line: readable without colour. */
enum { FRONT_COLUMN = 1, TEXT_COLUMN = 3 };
void frame_front(struct grid *grid, int row, int rows);

#endif
