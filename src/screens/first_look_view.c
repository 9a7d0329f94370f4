#include "senbetsu/screens/first_look_view.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/counter.h"

#include <inttypes.h>
#include <stdio.h>

enum { GAP = 1 };

const struct key_table *first_look_table(const struct first_look_view *view)
{
    return view->more ? &first_look_more_keys : &first_look_keys;
}

static void draw_counters(struct grid *grid, const struct body *body, int columns,
                          const struct first_look *look)
{
    struct counter counters[] = {
        {.word = "+ good", .style = STYLE_KEEP, .number = look->good},
        {.word = "looked at", .style = STYLE_STRONG, .number = look->looked_at},
    };
    snprintf(counters[1].beside, sizeof counters[1].beside, "0 not good %" PRId64,
             look->looked_at - look->good);
    int scale = counter_scale(grid, counters, 2, columns);
    counter_draw(grid, body->top, scale, columns - GAP, &counters[0]);
    counter_draw(grid, body->top + counter_rows(scale), scale, columns - GAP, &counters[1]);
}

static void draw_margin(struct grid *grid, int row, int column, const struct first_look_view *view)
{
    const struct first_look *look = &view->look;
    struct margin margin = {grid, row, column};
    char text[COUNT_TEXT_SIZE], percent[NUMBER_SIZE];
    bool known = view->lot.number != NOT_COUNTED;
    if (look->looked_at > 0) {
        number_to_tenth(100 * look->good, look->looked_at, percent);
        snprintf(text, sizeof text, "%s %%", percent);
        margin_line(&margin, "good", text);
        margin_line(&margin, "95 %", view->interval);
    } else {
        margin_line(&margin, "good", "not known yet");
    }
    margin.row++;
    margin_line(&margin, "in the lot", known ? count_text(&view->lot, text) : "not known");
    if (known && look->looked_at > 0) {
        snprintf(text, sizeof text, "%" PRId64 " to %" PRId64, view->good_low, view->good_high);
        margin_line(&margin, "good ones", text);
    }
    margin.row++;
    margin_line(&margin, "last key", view->last_key != NULL ? view->last_key : "");
}

/* What the pilot rule says. */
static void add_advice(const struct first_look *look, struct text *out)
{
    int first = look->good_in_dish[0], second = look->good_in_dish[1];
    switch (first_look_advice(look)) {
    case LOOK_UNFINISHED:
        text_addf(out, "It begins with %d fish; %" PRId64 " are still to be looked at.", LOOK_DISH,
                  first_look_missing(look));
        break;
    case LOOK_AGAIN:
        text_addf(out, "Only %d of the first %d are good: look at %" PRId64 " more.", first,
                  LOOK_DISH, first_look_missing(look));
        break;
    case LOOK_HARDLY_WORTH:
        text_addf(out, "%d and %d good of %d each: the lot is hardly worth culling.", first, second,
                  LOOK_DISH);
        break;
    case LOOK_AS_PLANNED:
        if (first < LOOK_POOR)
            text_addf(out, "%d and then %d of %d are good: go on as planned.", first, second,
                      LOOK_DISH);
        else
            text_addf(out, "%d of the first %d are good: go on as planned.", first, LOOK_DISH);
        break;
    case LOOK_MORE_ROOM:
        text_addf(out, "%d of the first %d are good: have room for more than planned.", first,
                  LOOK_DISH);
        break;
    }
}

static void draw_advice(struct grid *grid, int row, const struct first_look *look)
{
    struct text line;
    text_init(&line);
    add_advice(look, &line);
    int column =
        CURSOR_COLUMN + grid_put(grid, row, CURSOR_COLUMN, -1, STYLE_QUIET, "pilot rule: ");
    grid_put(grid, row, column, -1, STYLE_STRONG, line.data);
    grid_put(grid, row + 1, CURSOR_COLUMN, -1, STYLE_QUIET,
             "Net the fish blind, here and there in the pond. What to do is yours to say.");
    text_done(&line);
}

void first_look_draw(struct grid *grid, const struct first_look_view *view)
{
    struct frame frame = {.title = view->title,
                          .beside = view->judge,
                          .message = view->message,
                          .alert = view->alert,
                          .keys = first_look_table(view)};
    struct body body = frame_draw(grid, &frame);
    int edge = grid->columns - MARGIN_COLUMNS;
    draw_counters(grid, &body, edge, &view->look);
    draw_margin(grid, body.top, edge, view);
    draw_advice(grid, body.top + body.rows - 3, &view->look);
}
