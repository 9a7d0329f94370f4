#include "senbetsu/screens/home_view.h"

#include <stdio.h>

enum { SEASON_COLUMN = 3, CODE_COLUMN = 9, DATE_COLUMN = 24, STAGE_COLUMN = 11 };

static enum home_item item_at(const struct home_view *view, int item, size_t *ret_spawning)
{
    if (view->go_on[0] != '\0' && item-- == 0)
        return HOME_ITEM_GO_ON;
    if ((size_t)item >= view->spawning_count)
        return HOME_ITEM_ADD;
    *ret_spawning = (size_t)item;
    return HOME_ITEM_SPAWNING;
}

void home_ready(struct home_view *view)
{
    list_count(&view->list, (view->go_on[0] != '\0') + (int)view->spawning_count + 1);
}

enum home_item home_front(const struct home_view *view, size_t *ret_spawning)
{
    return item_at(view, view->list.current, ret_spawning);
}

static void draw_heading(struct grid *grid, int row, const struct home_spawning *spawning)
{
    grid_put(grid, row, CODE_COLUMN, DATE_COLUMN - CODE_COLUMN - 1, STYLE_STRONG, spawning->code);
    int column = DATE_COLUMN;
    const char *parts[] = {spawning->date, spawning->variety, spawning->pair};
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        if (parts[i][0] != '\0')
            column += 2 + grid_put(grid, row, column, -1, STYLE_PLAIN, parts[i]);
}

static void draw_rounds(struct grid *grid, struct rows *rows, const struct home_spawning *spawning)
{
    char name[ROUND_TEXT_SIZE];
    for (size_t i = 0; i < spawning->round_count; i++) {
        int row = rows_next(rows);
        progress_draw(grid, row, STAGE_COLUMN, round_line_name(&spawning->rounds[i], name),
                      &spawning->rounds[i].tally);
    }
    if (spawning->round_count == 0)
        grid_put(grid, rows_next(rows), STAGE_COLUMN, -1, STYLE_QUIET, "no round yet");
}

static void draw_spawning(struct grid *grid, struct rows *rows, const struct home_view *view,
                          size_t index, bool front)
{
    const struct home_spawning *spawning = &view->spawnings[index];
    bool begins = index == 0 || spawning[-1].season != spawning->season;
    if (begins && index > 0)
        rows_next(rows);
    int row = rows_next(rows);
    if (begins)
        grid_putf(grid, row, SEASON_COLUMN, 4, STYLE_TITLE, "%d", spawning->season);
    if (front)
        frame_front(grid, row, 1);
    draw_heading(grid, row, spawning);
    draw_rounds(grid, rows, spawning);
}

static void draw_line(struct grid *grid, struct rows *rows, bool front, enum style style,
                      const char *name, const char *about)
{
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, name);
    grid_put(grid, row, CODE_COLUMN, -1, style, about);
}

static void draw_home_item(struct grid *grid, struct rows *rows, const void *model, int item,
                           bool front)
{
    const struct home_view *view = model;
    size_t index = 0;
    switch (item_at(view, item, &index)) {
    case HOME_ITEM_GO_ON:
        draw_line(grid, rows, front, STYLE_STRONG, "go on", view->go_on);
        rows_next(rows);
        break;
    case HOME_ITEM_SPAWNING:
        draw_spawning(grid, rows, view, index, front);
        break;
    case HOME_ITEM_ADD:
        if (view->spawning_count > 0)
            rows_next(rows);
        draw_line(grid, rows, front, STYLE_PLAIN, "+", "add a spawning");
        break;
    }
}

static const char *const first_steps[] = {
    "This ledger is new. The way to the first list:",
    "",
    "1  Add a spawning here; its dam and sires can be entered on the way.",
    "2  Open it and begin a round: which cull it is, and by which standard.",
    "3  Take the first bowl and judge fish by fish; every key is on disk at once.",
    "4  When the bowls are through, run the pass and read the evening's list.",
};

static void draw_first_steps(struct grid *grid, int row)
{
    for (size_t i = 0; i < sizeof first_steps / sizeof first_steps[0]; i++)
        grid_put(grid, row + (int)i, TEXT_COLUMN, -1, i == 0 ? STYLE_STRONG : STYLE_PLAIN,
                 first_steps[i]);
}

void home_draw(struct grid *grid, struct home_view *view)
{
    char beside[2 * NOTE_SIZE];
    snprintf(beside, sizeof beside, "%s   judge: %s", view->ledger,
             view->judge[0] != '\0' ? view->judge : "not said");
    struct frame frame = {.title = "senbetsu: seasons and spawnings",
                          .beside = beside,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_HOME};
    struct body body = frame_draw(grid, &frame);
    list_draw(&view->list, grid, body, draw_home_item, view);
    if (view->spawning_count == 0)
        draw_first_steps(grid, body.top + 3);
}
