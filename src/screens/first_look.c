/* The first look on the stack of screens: a round's fish out of the ledger, and its keys. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/screens/first_look_view.h"
#include "senbetsu/screens/round_place.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/stats/proportion.h"
#include "senbetsu/store/lot_books.h"
#include "senbetsu/store/tallies.h"
#include "senbetsu/ui/term.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct first_look_screen {
    int64_t round_id;
    struct place before; /* where the hand was, and goes back to */
    struct count book; /* the fish that go into the round by the book, when the screen was opened */
    struct first_look_view view;
};

/* What the share of good fish says of the whole lot. */
static void project(struct first_look_view *view)
{
    const struct first_look *look = &view->look;
    if (view->lot.number <= 0)
        view->lot.number = NOT_COUNTED;
    if (view->lot.number == NOT_COUNTED || look->looked_at == 0)
        return;
    struct interval good = projection_interval(look->good, look->looked_at, view->lot.number,
                                               (double)view->lot.cv / CV_ONE, 0.95);
    view->good_low = llround(good.low);
    view->good_high = llround(good.high);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct first_look_screen *screen = state;
    struct first_look_view *view = &screen->view;
    if (!tally_lot(app->ledger, screen->round_id, &view->lot, err) ||
        !first_look_get(app->ledger, screen->round_id, &view->look, err))
        return false;
    if (view->lot.number == NOT_COUNTED)
        view->lot = screen->book;
    first_look_interval_text(&view->look, view->interval);
    project(view);
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct first_look_screen *screen = state;
    screen->view.judge = app->judge_name;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    first_look_draw(grid, &screen->view);
}

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
    screen->view.last_key = good != 0 ? "good" : "not good";
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
    screen->view.last_key = NULL;
    app_say(app, "The last key is taken back.");
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
    ((struct first_look_screen *)state)->view.more = true;
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
    {"- u", "undo", "take your last key back, again and again", .handler = undo},
    {". ,", "more", "then a digit: 9 help, 0 leave", .handler = more},
    {"? F1", "help", "all keys", .handler = help},
    {"q", "leave", "back to the round; the look goes on from the same numbers", .handler = leave},
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
    const struct key_table *table = first_look_table(&screen->view);
    int number;
    const struct key_row *row = keys_find(table, key, &number);
    if (row == NULL)
        term_alert();
    else
        screen->view.more = false;
    app_dispatch(app, state, table, key);
}

static const struct screen_kind first_look_kind = {
    .refresh = refresh, .draw = draw, .key = press, .done = free};

static void fill_title(const struct round *round, struct first_look_view *view)
{
    bool spawning = round->spawning[0] != '\0', lot = !spawning || !round->own_lot;
    snprintf(view->title, sizeof view->title, "%s%s%s: first look, before the %s cull",
             round->spawning, spawning && lot ? " " : "", lot ? round->lot : "",
             stage_terms[round->stage].word);
}

/* Where the hand goes when the look is left: to where it was; after a session that was broken off
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
    fill_title(&round, &screen->view);
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
