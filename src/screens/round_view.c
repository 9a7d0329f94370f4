#include "senbetsu/screens/round_view.h"

#include <stdio.h>

static int held(const struct round_view *view)
{
    return view->round.tally.verdicts[VERDICT_HOLD];
}

void round_ready(struct round_view *view)
{
    list_count(&view->list, (int)view->bowl_count + 3 + (held(view) > 0));
}

static enum round_item item_at(const struct round_view *view, int item, size_t *ret_bowl)
{
    size_t line = (size_t)item;
    if (line < view->bowl_count) {
        *ret_bowl = line;
        return ROUND_ITEM_BOWL;
    }
    if (line == view->bowl_count)
        return ROUND_ITEM_NEXT;
    if (line == view->bowl_count + 1 && held(view) > 0)
        return ROUND_ITEM_SECOND_LOOK;
    return item + 1 == view->list.count ? ROUND_ITEM_SAMPLES : ROUND_ITEM_FIRST_LOOK;
}

enum round_item round_front(const struct round_view *view, size_t *ret_bowl)
{
    return item_at(view, view->list.current, ret_bowl);
}

void round_to(struct round_view *view, enum round_item item, int number)
{
    size_t i = 0, bowl;
    if (item == ROUND_ITEM_BOWL)
        while (i < view->bowl_count && view->bowls[i].number != number)
            i++;
    else
        while ((int)i < view->list.count && item_at(view, (int)i, &bowl) != item)
            i++;
    list_to(&view->list, (int)i);
}

static bool is_open(const struct verdict_counts *tally)
{
    return tally->expected == 0 || tally->judged < tally->expected;
}

void round_to_open(struct round_view *view)
{
    size_t i = 0;
    while (i < view->bowl_count && !is_open(&view->bowls[i].tally))
        i++;
    list_to(&view->list, (int)i);
}

static void draw_bowl(struct grid *grid, int row, const struct bowl_line *bowl)
{
    char name[32];
    snprintf(name, sizeof name, "bowl %d", bowl->number);
    progress_draw(grid, row, TEXT_COLUMN, name, &bowl->tally);
}

static void draw_round_item(struct grid *grid, struct rows *rows, const void *model, int item,
                            bool front)
{
    const struct round_view *view = model;
    size_t bowl = 0;
    int row = rows_next(rows);
    if (front)
        frame_front(grid, row, 1);
    switch (item_at(view, item, &bowl)) {
    case ROUND_ITEM_BOWL:
        draw_bowl(grid, row, &view->bowls[bowl]);
        break;
    case ROUND_ITEM_NEXT:
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "+ next bowl");
        break;
    case ROUND_ITEM_SECOND_LOOK:
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_HOLD, "H second look at the %d held",
                  held(view));
        break;
    case ROUND_ITEM_FIRST_LOOK:
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "g first look at the lot%s%s",
                  view->round.first_look[0] != '\0' ? ": " : "", view->round.first_look);
        break;
    case ROUND_ITEM_SAMPLES:
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "t count the fish by samples");
        break;
    }
}

void round_draw(struct grid *grid, struct round_view *view)
{
    char title[2 * ROUND_TEXT_SIZE], text[ROUND_TEXT_SIZE];
    snprintf(title, sizeof title, "%s: %s", view->spawning, round_line_name(&view->round, text));
    struct frame frame = {.title = title,
                          .beside = view->judge,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_ROUND};
    struct body body = frame_draw(grid, &frame);
    progress_draw(grid, body.top, TEXT_COLUMN, "whole round", &view->round.tally);
    grid_put(grid, body.top + 1, TEXT_COLUMN, -1, STYLE_QUIET,
             round_line_about(&view->round, text));
    struct body list = {.top = body.top + 3, .rows = body.rows - 3};
    list_draw(&view->list, grid, list, draw_round_item, view);
}
