#include "senbetsu/screens/rates_view.h"
#include "senbetsu/ui/label.h"

#include <inttypes.h>
#include <stdio.h>

/* Where the columns of numbers end, and where the bar begins; it takes the room that is left. */
enum {
    NAME_COLUMNS = 15,
    ALIVE_END = 24,
    IN_END = 32,
    KEPT_END = 40,
    RATE_END = 47,
    INTERVAL_END = 64,
    BAR_COLUMN = 66,
};

void rates_ready(struct rates_view *view)
{
    list_count(&view->list, (int)view->item_count);
}

static void draw_number(struct grid *grid, int row, int end, int64_t number)
{
    char text[STEP_TEXT_SIZE];
    snprintf(text, sizeof text, "%" PRId64, number);
    if (number != NOT_KNOWN)
        grid_put_right(grid, row, end, -1, STYLE_PLAIN, text);
}

/* A cell counts as filled where its middle is. */
static void draw_bar(struct grid *grid, int row, const struct rates_step *step)
{
    int cells = grid->columns - BAR_COLUMN;
    if (step->low == NOT_KNOWN)
        return;
    for (int i = 0; i < cells; i++) {
        int middle = (2 * i + 1) * WHOLE_BAR / (2 * cells);
        bool sure = middle <= step->low, perhaps = middle <= step->high;
        grid_put(grid, row, BAR_COLUMN + i, 1, perhaps ? STYLE_PLAIN : STYLE_QUIET,
                 sure      ? "█"
                 : perhaps ? "▒"
                           : "·");
    }
}

static void draw_warning(struct grid *grid, int row, const char *warning)
{
    char text[LABEL_SIZE];
    int column = TEXT_COLUMN + 2;
    grid_put(grid, row, TEXT_COLUMN, 1, STYLE_ALERT, "!");
    grid_put(grid, row, column, -1, STYLE_STRONG, label_fit(warning, grid->columns - column, text));
}

static void draw_step(struct grid *grid, struct rows *rows, const struct rates_step *step)
{
    int row = rows_next(rows);
    grid_put(grid, row, TEXT_COLUMN, NAME_COLUMNS, STYLE_PLAIN, step->name);
    grid_put_right(grid, row, ALIVE_END, -1, STYLE_PLAIN, step->alive);
    draw_number(grid, row, IN_END, step->in);
    draw_number(grid, row, KEPT_END, step->kept);
    grid_put_right(grid, row, RATE_END, -1, STYLE_STRONG, step->rate);
    grid_put_right(grid, row, INTERVAL_END, -1, STYLE_PLAIN, step->interval);
    draw_bar(grid, row, step);
    for (int i = 0; i < step->warning_count; i++)
        draw_warning(grid, rows_next(rows), step->warnings[i]);
}

static void draw_rates_item(struct grid *grid, struct rows *rows, const void *model, int index,
                            bool front)
{
    const struct rates_item *item = &((const struct rates_view *)model)->items[index];
    if (index > 0)
        rows_next(rows);
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    int used = grid_put(grid, row, TEXT_COLUMN, -1, STYLE_STRONG, item->title);
    grid_put(grid, row, TEXT_COLUMN + used + 2, -1, STYLE_QUIET, item->lot_origin);
    for (size_t i = 0; i < item->step_count; i++)
        draw_step(grid, rows, &item->steps[i]);
    if (item->step_count == 0)
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_QUIET, "no round yet");
}

static void draw_heading(struct grid *grid, int row)
{
    static const struct {
        int end;
        const char *text;
    } columns[] = {
        {ALIVE_END, "alive %"},
        {IN_END, "in"},
        {KEPT_END, "kept"},
        {RATE_END, "keep %"},
        {INTERVAL_END, "95 % interval"},
        {BAR_COLUMN + 1, "0"},
    };
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        grid_put_right(grid, row, columns[i].end, -1, STYLE_QUIET, columns[i].text);
    grid_put_right(grid, row, grid->columns, -1, STYLE_QUIET, "100 %");
}

/* The other seasons, on the side of their key. */
static void say_seasons(const struct rates_view *view, char *ret_text, size_t size)
{
    char before[16] = "", after[16] = "";
    if (view->before != 0)
        snprintf(before, sizeof before, "◂ %d", view->before);
    if (view->after != 0)
        snprintf(after, sizeof after, "%d ▸", view->after);
    snprintf(ret_text, size, "%s%s%s", before, before[0] != '\0' && after[0] != '\0' ? "   " : "",
             after);
}

void rates_draw(struct grid *grid, struct rates_view *view)
{
    char title[64], beside[64];
    snprintf(title, sizeof title, "Season %d: from the eggs to the fish kept", view->season);
    say_seasons(view, beside, sizeof beside);
    struct frame frame = {.title = title,
                          .beside = beside,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_RATES};
    struct body body = frame_draw(grid, &frame);
    draw_heading(grid, body.top++);
    body.rows--;
    list_draw(&view->list, grid, body, draw_rates_item, view);
}
