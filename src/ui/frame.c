/* The frame around a screen: two rows of title, and at the foot two of message and two of keys.
 *
 * All screens share it, so that the title, the sentence after a failed key and the keys are always
 * in the same rows, where a sorter finds them without reading. Message rows are kept free even when
 * there is no message: nothing on the screen moves when one appears. */
#include "senbetsu/ui/frame.h"
#include "senbetsu/base/utf8.h"

enum { FOOTER_ROWS = 2, MESSAGE_ROWS = 2 };

static void draw_title(struct grid *grid, const struct frame *frame)
{
    int beside = frame->beside != NULL ? utf8_width(frame->beside) : 0;
    int room = grid->columns - 2 * CURSOR_COLUMN - beside - 1;
    grid_put(grid, 0, CURSOR_COLUMN, room, STYLE_TITLE, frame->title);
    if (beside > 0)
        grid_put_right(grid, 0, grid->columns - CURSOR_COLUMN, beside, STYLE_QUIET, frame->beside);
    grid_rule(grid, 1, 0, grid->columns);
}

static int message_row_of(const struct grid *grid)
{
    return grid->rows - FOOTER_ROWS - MESSAGE_ROWS;
}

void frame_message(struct grid *grid, enum style style, const char *message)
{
    grid_wrap(grid, message_row_of(grid), CURSOR_COLUMN, MESSAGE_ROWS, style, message);
}

void frame_foot(struct grid *grid, enum style style, const char *message,
                const struct key_table *keys)
{
    int row = grid->rows - FRAME_FOOT_ROWS, used = 1;
    if (message[0] != '\0')
        grid_fill(grid, (struct area){row, 0, FRAME_FOOT_ROWS, grid->columns}, STYLE_PLAIN);
    if (utf8_width(message) > grid->columns)
        used = grid_wrap(grid, row, 0, FRAME_FOOT_ROWS, style, message);
    else
        grid_put(grid, row, 0, -1, style, message);
    keys_footer(grid, row + used, FRAME_FOOT_ROWS - used, keys);
}

struct body frame_draw(struct grid *grid, const struct frame *frame)
{
    grid_clear(grid);
    draw_title(grid, frame);
    int message_row = message_row_of(grid);
    grid_rule(grid, message_row - 1, 0, grid->columns);
    if (frame->message != NULL)
        frame_message(grid, frame->alert ? STYLE_ALERT : STYLE_STRONG, frame->message);
    if (frame->keys != NULL)
        keys_footer(grid, grid->rows - FOOTER_ROWS, FOOTER_ROWS, frame->keys);
    return (struct body){.top = 2, .rows = message_row - 1 - 2};
}

void frame_cursor(struct grid *grid, int row)
{
    grid_put(grid, row, CURSOR_COLUMN, 1, STYLE_CURSOR, ">");
}

bool frame_too_small(struct grid *grid, int rows)
{
    if (grid->columns >= GRID_MIN_COLUMNS && grid->rows >= rows)
        return false;
    grid_clear(grid);
    grid_put(grid, 0, 0, -1, STYLE_STRONG, "Too small:");
    grid_putf(grid, 1, 0, -1, STYLE_PLAIN, "%d × %d; needs", grid->columns, grid->rows);
    grid_putf(grid, 2, 0, -1, STYLE_PLAIN, "%d × %d.", GRID_MIN_COLUMNS, rows);
    grid_put(grid, 3, 0, -1, STYLE_PLAIN, "Nothing is lost.");
    grid_put(grid, 4, 0, -1, STYLE_PLAIN, "Make it larger.");
    return true;
}
