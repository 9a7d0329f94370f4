#include "senbetsu/ui/frame.h"
#include "senbetsu/base/utf8.h"

enum { FOOTER_ROWS = 2, MESSAGE_ROWS = 2 };

static void draw_title(struct grid *grid, const struct frame *frame)
{
    int beside = frame->beside != NULL ? utf8_width(frame->beside) : 0;
    int room = grid->columns - 2 * FRONT_COLUMN - beside - 1;
    grid_put(grid, 0, FRONT_COLUMN, room, STYLE_TITLE, frame->title);
    if (beside > 0)
        grid_put_right(grid, 0, grid->columns - FRONT_COLUMN, beside, STYLE_QUIET, frame->beside);
    grid_rule(grid, 1, 0, grid->columns);
}

/* The sentence on as many rows as there are; what is too long for them ends in "…". */
static void draw_message(struct grid *grid, int row, const struct frame *frame)
{
    enum style style = frame->alert ? STYLE_ALERT : STYLE_STRONG;
    grid_wrap(grid, row, FRONT_COLUMN, MESSAGE_ROWS, style, frame->message);
}

struct body frame_draw(struct grid *grid, const struct frame *frame)
{
    grid_clear(grid);
    draw_title(grid, frame);
    int message_row = grid->rows - FOOTER_ROWS - MESSAGE_ROWS;
    grid_rule(grid, message_row - 1, 0, grid->columns);
    if (frame->message != NULL)
        draw_message(grid, message_row, frame);
    footer_draw(grid, grid->rows - FOOTER_ROWS, FOOTER_ROWS, frame->context);
    return (struct body){.top = 2, .rows = message_row - 1 - 2};
}

void frame_front(struct grid *grid, int row, int rows)
{
    grid_put(grid, row, FRONT_COLUMN, 1, STYLE_CURSOR, ">");
    for (int i = 0; i < rows; i++)
        grid_restyle(grid, row + i, FRONT_COLUMN, 1, STYLE_CURSOR);
}
