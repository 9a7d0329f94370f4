#include "senbetsu/screens/pairs_view.h"

#include <stdio.h>
#include <string.h>

enum { NAME_COLUMNS = 16, CHART_COLUMN = 56 };

/* Where the columns end; the chart takes the room that is left. */
static const struct {
    const char *text;
    int end;
} columns[PAIRS_COLUMN_COUNT] = {
    [PAIRS_NAME] = {"dam × sires", TEXT_COLUMN + NAME_COLUMNS},
    [PAIRS_RESTS] = {"rests on", 28},
    [PAIRS_COUNTED] = {"○ raw%", 36},
    [PAIRS_EXPECTED] = {"● exp%", 43},
    [PAIRS_BEST] = {"best3", 49},
    [PAIRS_INBREEDING] = {"inbr%", 55},
};

void pairs_ready(struct pairs_view *view)
{
    list_count(&view->list, (int)view->line_count);
}

static void draw_texts(struct grid *grid, int row, const struct pairs_line *line)
{
    enum style style = line->chosen ? STYLE_STRONG : STYLE_PLAIN;
    grid_put(grid, row, TEXT_COLUMN, NAME_COLUMNS, line->untried ? style : STYLE_STRONG,
             line->texts[PAIRS_NAME]);
    for (int i = PAIRS_RESTS; i < PAIRS_COLUMN_COUNT; i++)
        grid_put_right(grid, row, columns[i].end, -1, style, line->texts[i]);
}

static int chart_columns(const struct grid *grid)
{
    return grid->columns - CHART_COLUMN - 1;
}

/* A variety and its scale. */
static void draw_variety(struct grid *grid, int row, const struct pairs_line *line)
{
    bool known = line->variety[0] != '\0';
    grid_put(grid, row, TEXT_COLUMN, -1, STYLE_QUIET, known ? line->variety : "variety not known");
    whisker_scale_draw(grid, row, CHART_COLUMN, chart_columns(grid), line->most);
}

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int index,
                      bool front)
{
    const struct pairs_line *line = &((const struct pairs_view *)model)->lines[index];
    if (index == 0 || strcmp(line->variety, line[-1].variety) != 0)
        draw_variety(grid, rows_next(rows), line);
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    if (line->chosen)
        grid_put(grid, row, FRONT_COLUMN + 1, 1, STYLE_STRONG, "?");
    draw_texts(grid, row, line);
    whisker_draw(grid, row, CHART_COLUMN, chart_columns(grid), line->most, &line->whisker);
}

/* The column that the lines are sorted by stands out, and has a mark. */
static void draw_heading(struct grid *grid, int row, const struct pairs_view *view)
{
    for (int i = 0; i < PAIRS_COLUMN_COUNT; i++) {
        bool sorted = view->sorted == (enum pairs_column)i;
        char text[PAIRS_TEXT_SIZE];
        snprintf(text, sizeof text, "%s%s", sorted ? "▼" : "", columns[i].text);
        if (i == PAIRS_NAME)
            grid_put(grid, row, TEXT_COLUMN, -1, sorted ? STYLE_STRONG : STYLE_QUIET, text);
        else
            grid_put_right(grid, row, columns[i].end, -1, sorted ? STYLE_STRONG : STYLE_QUIET,
                           text);
    }
    grid_put(grid, row, CHART_COLUMN, -1, STYLE_QUIET, "├─┤ 90 % interval");
}

/* Two lines above the chart, for it may be long. */
static void draw_trouble(struct grid *grid, struct body *body, const char *trouble)
{
    grid_put(grid, body->top, FRONT_COLUMN, 1, STYLE_ALERT, "!");
    int rows = grid_wrap(grid, body->top, TEXT_COLUMN, 2, STYLE_STRONG, trouble);
    body->top += rows;
    body->rows -= rows;
}

static const char *foot(const struct pairs_view *view)
{
    if (view->message != NULL && view->message[0] != '\0')
        return view->message;
    return view->line_count > 0 ? view->lines[view->list.current].about : "";
}

void pairs_draw(struct grid *grid, struct pairs_view *view)
{
    char title[PAIRS_TEXT_SIZE + 40], beside[40] = "";
    snprintf(title, sizeof title, "Pairs over the seasons: %s cull", view->stages);
    if (view->untried_hidden > 0)
        snprintf(beside, sizeof beside, "%zu untried not shown", view->untried_hidden);
    struct frame frame = {.title = title,
                          .beside = beside,
                          .message = foot(view),
                          .alert = view->alert,
                          .context = CONTEXT_PAIRS};
    struct body body = frame_draw(grid, &frame);
    if (view->trouble[0] != '\0')
        draw_trouble(grid, &body, view->trouble);
    draw_heading(grid, body.top++, view);
    body.rows--;
    if (view->line_count == 0)
        grid_put(grid, body.top, TEXT_COLUMN, -1, STYLE_QUIET, "no pair was set yet");
    list_draw(&view->list, grid, body, draw_line, view);
}
