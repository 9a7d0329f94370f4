#include "senbetsu/screens/lot_view.h"

#include <stdio.h>

enum { NUMBER_COLUMNS = 26, INDENT = 2 };

void lot_ready(struct lot_view *view)
{
    list_count(&view->list, (int)view->lot_count);
}

/* Where it is stands in the middle, how many there are at the right edge. */
static void draw_lot(struct grid *grid, int row, const struct lot_item *lot)
{
    int middle = grid->columns / 2, end = grid->columns - FRONT_COLUMN;
    grid_put(grid, row, TEXT_COLUMN, middle - TEXT_COLUMN - 1, STYLE_STRONG, lot->title);
    if (lot->pond[0] != '\0')
        grid_putf(grid, row, middle, end - NUMBER_COLUMNS - middle - 1, STYLE_PLAIN, "in %s",
                  lot->pond);
    grid_put_right(grid, row, end, NUMBER_COLUMNS, lot->wrong ? STYLE_ALERT : STYLE_STRONG,
                   lot->number);
}

static void draw_lot_item(struct grid *grid, struct rows *rows, const void *model, int item,
                          bool front)
{
    const struct lot_item *lot = &((const struct lot_view *)model)->lots[item];
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    draw_lot(grid, row, lot);
    grid_put(grid, rows_next(rows), TEXT_COLUMN + INDENT, -1, STYLE_QUIET, lot->about);
    for (int i = 0; i < lot->event_count; i++)
        grid_put(grid, rows_next(rows), TEXT_COLUMN + INDENT, -1, STYLE_PLAIN, lot->events[i]);
    rows_next(rows);
}

void lot_draw(struct grid *grid, struct lot_view *view)
{
    char title[CODE_SIZE + 32];
    snprintf(title, sizeof title, "%s: lots", view->spawning);
    struct frame frame = {.title = title,
                          .beside = view->judge,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_LOTS};
    struct body body = frame_draw(grid, &frame);
    list_draw(&view->list, grid, body, draw_lot_item, view);
}
