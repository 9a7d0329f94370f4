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

/* Bytes of the longest start of `text` that fits, broken at a blank where there is one. */
static size_t line_of(const char *text, int columns)
{
    size_t most = utf8_fit(text, columns), at = most;
    while (text[most] != '\0' && at > 0 && text[at] != ' ')
        at--;
    return at > 0 ? at : most;
}

/* The sentence on as many rows as there are; what is too long for them ends in "…". */
static void draw_message(struct grid *grid, int row, const struct frame *frame)
{
    const char *rest = frame->message;
    int columns = grid->columns - 2 * FRONT_COLUMN;
    enum style style = frame->alert ? STYLE_ALERT : STYLE_STRONG;
    for (int i = 0; i < MESSAGE_ROWS - 1 && utf8_width(rest) > columns; i++) {
        size_t length = line_of(rest, columns);
        grid_putf(grid, row++, FRONT_COLUMN, columns, style, "%.*s", (int)length, rest);
        rest += length + (rest[length] == ' ');
    }
    grid_put(grid, row, FRONT_COLUMN, columns, style, rest);
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
