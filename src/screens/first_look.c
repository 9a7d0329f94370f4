/* The first look: before a cull, some fish of the lot are netted blind and called good or not good.
 * The screen says what share of good fish that makes, how sure it is, what it comes to in the whole
 * lot, and what the pilot rule advises (core/first_look.h). */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/stats/proportion.h"
#include "senbetsu/store/tallies.h"
#include "senbetsu/ui/counter.h"
#include "senbetsu/ui/term.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { GAP = 1 };

struct first_look_screen {
    int64_t round_id;
    char title[2 * NOTE_SIZE];
    struct place before; /* where the cursor was, and goes back to */
    struct count book; /* the fish that go into the round by the book, when the screen was opened */
    struct first_look look;
    char interval[32];           /* of the share of good fish: "48.1 to 85.5 %" */
    struct count lot;            /* the fish of the lot */
    int64_t good_low, good_high; /* good ones among them, with the error of their number */
    const char *last_key;        /* "good", "not good"; NULL = none yet */
    bool more;                   /* the next digit names anything else */
};

/* What is shown. */

/* What the share of good fish says of the whole lot. */
static void project(struct first_look_screen *screen)
{
    const struct first_look *look = &screen->look;
    if (screen->lot.number <= 0)
        screen->lot.number = NOT_COUNTED;
    if (screen->lot.number == NOT_COUNTED || look->looked_at == 0)
        return;
    struct interval good = projection_interval(look->good, look->looked_at, screen->lot.number,
                                               (double)screen->lot.cv / CV_ONE, CONFIDENCE_LEVEL);
    screen->good_low = llround(good.low);
    screen->good_high = llround(good.high);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct first_look_screen *screen = state;
    if (!tally_lot(app->ledger, screen->round_id, &screen->lot, err) ||
        !first_look_get(app->ledger, screen->round_id, &screen->look, err))
        return false;
    if (screen->lot.number == NOT_COUNTED)
        screen->lot = screen->book;
    first_look_interval_text(&screen->look, screen->interval);
    project(screen);
    return true;
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

static void draw_margin(struct grid *grid, int row, int column,
                        const struct first_look_screen *screen)
{
    const struct first_look *look = &screen->look;
    struct margin margin = {grid, row, column};
    char text[COUNT_TEXT_SIZE], percent[NUMBER_SIZE];
    bool known = screen->lot.number != NOT_COUNTED;
    if (look->looked_at > 0) {
        number_to_tenth(100 * look->good, look->looked_at, percent);
        snprintf(text, sizeof text, "%s %%", percent);
        margin_line(&margin, "good", text);
        margin_line(&margin, "95 %", screen->interval);
    } else {
        margin_line(&margin, "good", "not known yet");
    }
    margin.row++;
    margin_line(&margin, "in the lot", known ? count_text(&screen->lot, text) : "not known");
    if (known && look->looked_at > 0) {
        snprintf(text, sizeof text, "%" PRId64 " to %" PRId64, screen->good_low, screen->good_high);
        margin_line(&margin, "good ones", text);
    }
    margin.row++;
    margin_line(&margin, "last key", screen->last_key != NULL ? screen->last_key : "");
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
        text_addf(out, "%d of the first %d are good: make room for more than planned.", first,
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
             "Net the fish blind, here and there in the pond. The decision is yours.");
    text_done(&line);
}

static const struct key_table *keys_of(const struct first_look_screen *screen)
{
    return screen->more ? &first_look_more_keys : &first_look_keys;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    const struct first_look_screen *screen = state;
    struct frame frame = {.title = screen->title,
                          .beside = app->judge_name,
                          .message = app->message,
                          .alert = app->alert,
                          .keys = keys_of(screen)};
    struct body body = frame_draw(grid, &frame);
    int margin = grid->columns - MARGIN_COLUMNS;
    draw_counters(grid, &body, margin, &screen->look);
    draw_margin(grid, body.top, margin, screen);
    draw_advice(grid, body.top + body.rows - 3, &screen->look);
}

/* What the keys do. */

static struct place place_here(const struct app *app, const struct first_look_screen *screen)
{
    int scoops = round_place_is(&screen->before, AT_SCOOPS) ? AT_SCOOPS : 0;
    return round_place(app->judge, screen->round_id, AT_FIRST_LOOK | scoops, true);
}

/* The number on the screen is the one that the ledger gives after the key. */
static void call(struct app *app, void *state, int good)
{
    struct first_look_screen *screen = state;
    struct place place = place_here(app, screen);
    struct err err;
    if (!first_look_record(app->ledger, screen->round_id, app->judge, good != 0, &place, &err)) {
        app_fail(app, &err);
        return;
    }
    screen->last_key = good != 0 ? "good" : "not good";
    app->stale = true;
}

static void undo(struct app *app, void *state, int number)
{
    struct first_look_screen *screen = state;
    (void)number;
    struct place place = place_here(app, screen);
    struct err err;
    if (!first_look_undo(app->ledger, screen->round_id, app->judge, &place, &err)) {
        app_fail(app, &err);
        return;
    }
    screen->last_key = NULL;
    app_say(app, "The last key is undone.");
    app->stale = true;
}

static void leave(struct app *app, void *state, int number)
{
    const struct first_look_screen *screen = state;
    (void)number;
    struct place before = screen->before;
    struct err err;
    bool kept = place_save(app->ledger, &before, &err);
    app_pop(app);
    if (!kept)
        app_fail(app, &err);
}

static void more(struct app *app, void *state, int number)
{
    (void)app;
    (void)number;
    ((struct first_look_screen *)state)->more = true;
}

static void back(struct app *app, void *state, int number)
{
    (void)app;
    (void)state;
    (void)number;
}

static void help(struct app *app, void *state, int number)
{
    (void)state;
    (void)number;
    app_push_help(app, &first_look_keys);
}

static const struct key_row rows[] = {
    {"+ Enter Space g", "good", "this fish is good", .handler = call, .number = 1},
    {"0 n", "not good", "this fish is not good", .handler = call, .number = 0},
    {"- u", "undo", "undo your last key, again and again", .handler = undo},
    {". ,", "more", "then a digit: 9 help, 0 leave", .handler = more},
    {"? F1", "help", "all keys", .handler = help},
    {"q", "leave", "back to the round; the look keeps its numbers", .handler = leave},
};

const struct key_table first_look_keys = KEY_TABLE("At the first look", rows);

static const struct key_row more_rows[] = {
    {"9", "help", "help", .handler = help},
    {"0", "leave", "back to the round", .handler = leave},
    {"- Esc Backspace", "back", "back to the fish", .handler = back},
};

const struct key_table first_look_more_keys =
    KEY_TABLE("Everything else of the first look by number", more_rows);

static void press(struct app *app, void *state, struct key key)
{
    struct first_look_screen *screen = state;
    const struct key_table *table = keys_of(screen);
    int number;
    const struct key_row *row = keys_find(table, key, &number);
    if (row == NULL)
        term_alert();
    else
        screen->more = false;
    app_dispatch(app, state, table, key);
}

static const struct screen_kind first_look_kind = {
    .refresh = refresh, .draw = draw, .key = press, .done = free};

static void fill_title(const struct round *round, struct first_look_screen *screen)
{
    bool spawning = round->spawning[0] != '\0', lot = !spawning || !round->own_lot;
    snprintf(screen->title, sizeof screen->title, "%s%s%s: first look, before the %s cull",
             round->spawning, spawning && lot ? " " : "", lot ? round->lot : "",
             stage_terms[round->stage].word);
}

/* Where the cursor goes when the look is left: to where it was; after a session that was broken off
 * here, to the round. */
static bool find_before(struct app *app, int64_t round_id, struct place *ret, struct err *err)
{
    struct place before;
    if (place_get(app->ledger, app->judge, &before, err)) {
        bool here = before.round_id == round_id && round_place_is(&before, AT_FIRST_LOOK);
        *ret = here ? round_place(app->judge, round_id, 0, false) : before;
        return true;
    }
    *ret = round_place(app->judge, round_id, 0, false);
    return err->code == ERR_ABSENT;
}

static bool start(struct app *app, struct first_look_screen *screen, struct err *err)
{
    struct round round;
    if (!round_get(app->ledger, screen->round_id, &round, err) ||
        !lot_book_before(app->ledger, screen->round_id, &screen->book, err) ||
        !find_before(app, screen->round_id, &screen->before, err))
        return false;
    struct place here = place_here(app, screen);
    fill_title(&round, screen);
    return place_save(app->ledger, &here, err);
}

void app_open_first_look(struct app *app, int64_t round_id)
{
    struct first_look_screen *screen = alloc_zeroed(1, sizeof *screen);
    struct err err;
    screen->round_id = round_id;
    if (start(app, screen, &err)) {
        app_push(app, &first_look_kind, screen);
    } else {
        free(screen);
        app_fail(app, &err);
    }
}
