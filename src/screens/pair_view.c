#include "senbetsu/screens/pair_view.h"

/* Where the columns of numbers end, and where the chart begins; it takes the room that is left. */
enum {
    CODE_COLUMN = 9,
    CODE_COLUMNS = 14,
    IN_END = 31,
    KEPT_END = 39,
    RATE_END = 46,
    INTERVAL_END = 62,
    CHART_COLUMN = 64,
};

void pair_ready(struct pair_view *view)
{
    list_count(&view->list, (int)view->spawning_count);
}

static void draw_spawning(struct grid *grid, struct rows *rows, const void *model, int index,
                          bool front)
{
    const struct pair_view *view = model;
    const struct pair_spawning *spawning = &view->spawnings[index];
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    if (index == 0 || spawning[-1].season != spawning->season)
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "%d", spawning->season);
    grid_put(grid, row, CODE_COLUMN, CODE_COLUMNS, STYLE_STRONG, spawning->code);
    grid_put_right(grid, row, IN_END, -1, STYLE_PLAIN, spawning->in);
    grid_put_right(grid, row, KEPT_END, -1, STYLE_PLAIN, spawning->kept);
    grid_put_right(grid, row, RATE_END, -1, STYLE_STRONG, spawning->rate);
    grid_put_right(grid, row, INTERVAL_END, -1, STYLE_PLAIN, spawning->interval);
    whisker_draw(grid, row, CHART_COLUMN, grid->columns - CHART_COLUMN - 1, view->most,
                 &spawning->whisker);
}

static void draw_heading(struct grid *grid, int row, int most)
{
    grid_put(grid, row, CODE_COLUMN, -1, STYLE_QUIET, "spawning");
    grid_put_right(grid, row, IN_END, -1, STYLE_QUIET, "in");
    grid_put_right(grid, row, KEPT_END, -1, STYLE_QUIET, "kept");
    grid_put_right(grid, row, RATE_END, -1, STYLE_QUIET, "○ raw%");
    grid_put_right(grid, row, INTERVAL_END, -1, STYLE_QUIET, "95 % interval");
    whisker_scale_draw(grid, row, CHART_COLUMN, grid->columns - CHART_COLUMN - 1, most);
}

void pair_draw(struct grid *grid, struct pair_view *view)
{
    struct frame frame = {.title = view->title,
                          .beside = view->beside,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_PAIR};
    struct body body = frame_draw(grid, &frame);
    draw_heading(grid, body.top++, view->most);
    body.rows--;
    list_draw(&view->list, grid, body, draw_spawning, view);
}
