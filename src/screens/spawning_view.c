#include "senbetsu/screens/spawning_view.h"

#include <stdio.h>

void spawning_ready(struct spawning_view *view)
{
    list_count(&view->list, (int)view->spawning.round_count + 1);
}

size_t spawning_front(const struct spawning_view *view)
{
    return (size_t)view->list.current;
}

static void draw_round(struct grid *grid, struct rows *rows, const struct round_line *round,
                       bool front)
{
    char text[ROUND_TEXT_SIZE];
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    progress_draw(grid, row, TEXT_COLUMN, round_line_name(round, text), &round->tally);
    row = rows_next(rows);
    grid_put(grid, row, TEXT_COLUMN + 2, -1, STYLE_QUIET, round_line_about(round, text));
    if (round->first_look[0] != '\0')
        grid_putf(grid, rows_next(rows), TEXT_COLUMN + 2, -1, STYLE_QUIET, "first look: %s",
                  round->first_look);
    rows_next(rows);
}

static void draw_spawning_item(struct grid *grid, struct rows *rows, const void *model, int item,
                               bool front)
{
    const struct home_spawning *spawning = &((const struct spawning_view *)model)->spawning;
    if ((size_t)item < spawning->round_count) {
        draw_round(grid, rows, &spawning->rounds[item], front);
        return;
    }
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "+ begin a round");
}

void spawning_draw(struct grid *grid, struct spawning_view *view)
{
    const struct home_spawning *spawning = &view->spawning;
    char title[2 * NOTE_SIZE], beside[64];
    snprintf(title, sizeof title, "%s: %s  %s", spawning->code, spawning->variety, spawning->pair);
    snprintf(beside, sizeof beside, "season %d", spawning->season);
    struct frame frame = {.title = title,
                          .beside = beside,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_SPAWNING};
    struct body body = frame_draw(grid, &frame);
    body.top++;
    body.rows--;
    list_draw(&view->list, grid, body, draw_spawning_item, view);
}
