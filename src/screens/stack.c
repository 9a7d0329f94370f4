/* The stack of screens: which one draws, which one gets a key, what is said under it; and the two
 * screens that every other one may put on top, help and a form. It knows no screen by name. No
 * terminal: keys come in and cells go out, so tests work it as the terminal's loop does (loop.c).
 * A screen says with `stale` that it must be read anew, and so does every change of screen: no
 * screen tells another what it did. What another sorter wrote meanwhile is seen while nobody types:
 * the ledger is asked whether there is anything, and read only then. What is drawn,
 * and what a key reads, is of one moment of the ledger, which is over before the next key is waited
 * for. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screen.h"
#include "senbetsu/ui/list.h"
#include "senbetsu/ui/term.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct screen *top(const struct app *app)
{
    return &app->screens[app->screen_count - 1];
}

void app_push(struct app *app, const struct screen_kind *kind, void *state)
{
    if (app->screen_count == SCREENS_MOST) {
        kind->done(state);
        app_say(app, "Too many screens are open; leave one first.");
        return;
    }
    app->screens[app->screen_count++] = (struct screen){kind, state};
    app->stale = true;
}

void app_pop(struct app *app)
{
    const struct screen *screen = top(app);
    app->screen_count--;
    screen->kind->done(screen->state);
    app->stale = true;
}

void app_pop_all(struct app *app)
{
    while (app->screen_count > 0)
        app_pop(app);
}

void app_say(struct app *app, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(app->message, sizeof app->message, format, arguments);
    va_end(arguments);
    app->alert = false;
}

void app_ring(struct app *app)
{
    app->alert = true;
    term_alert();
}

bool app_refuse(struct app *app, enum err_code code, const char *sentence)
{
    app_say(app, "%s", sentence);
    if (code == ERR_UNCERTAIN)
        app_say(app, "It is not certain whether this was recorded, for the disk failed while it "
                     "was saved. Press any key to find out.");
    app->uncertain |= code == ERR_UNCERTAIN;
    if (code == ERR_GONE)
        err_set(&app->gone, code, "%s", sentence);
    app_ring(app);
    app_hold_keys(app);
    return false;
}

bool app_fail(struct app *app, const struct err *err)
{
    return app_refuse(app, err->code, err->text);
}

/* Keys that were typed ahead. Whether one came before the screen was painted is a matter of order
 * and not of clocks: the terminal's loop gives everything that is there before it says that the
 * screen is shown. Time only tells whether the next key goes on with a run: a hand that has not
 * looked up yet, a tag reader in the middle of its digits, a key held down, a paste. */

enum { RUN_MS = 250 }; /* a quick hand needs 200 ms from key to key */

void app_hold_keys(struct app *app)
{
    app->holds = true;
    app->shown = false;
    app->held = app->pressed;
}

void app_shown(struct app *app)
{
    app->shown = true;
}

static bool goes_on_with_run(const struct app *app)
{
    return app->pressed.to_ms != 0 && app->held.to_ms != 0 &&
           app->pressed.from_ms - app->held.to_ms < RUN_MS;
}

static bool throws_away(struct app *app)
{
    app->holds = app->holds && (!app->shown || goes_on_with_run(app));
    if (app->holds && app->shown)
        term_alert();
    if (app->holds)
        app->held = app->pressed;
    return app->holds;
}

void app_today(const struct app *app, char ret_day[11])
{
    clock_today(ledger_clock(app->ledger), ret_day);
}

struct body app_frame(const struct app *app, struct grid *grid, const char *title,
                      const char *beside)
{
    const struct frame frame = {.title = title,
                                .beside = beside,
                                .message = app->message,
                                .alert = app->alert,
                                .keys = top(app)->kind->keys};
    return frame_draw(grid, &frame);
}

static int rows_needed(const struct app *app)
{
    const struct screen_kind *kind = top(app)->kind;
    return kind->rows > 0 ? kind->rows : GRID_MIN_ROWS;
}

bool app_fits(const struct app *app, const struct grid *grid)
{
    return grid->columns >= GRID_MIN_COLUMNS && grid->rows >= rows_needed(app);
}

/* Whether anything was written since this was last asked, or another day began; where that cannot
 * be known, what is read says why. */
static bool time_went_on(struct app *app)
{
    bool changed;
    char today[DATE_SIZE];
    struct err err;
    bool known = ledger_changed(app->ledger, &app->seen, &changed, &err);
    app_today(app, today);
    bool same_day = strcmp(today, app->seen_day) == 0;
    text_copy(app->seen_day, sizeof app->seen_day, today);
    return !known || changed || !same_day;
}

/* A screen whose record is not there any more, for somebody has retired it, gives way to the one
 * below. */
static void refresh(struct app *app)
{
    struct err err;
    while (app->stale) {
        const struct screen *screen = top(app);
        app->stale = false;
        time_went_on(app);
        if (screen->kind->refresh == NULL || screen->kind->refresh(app, screen->state, &err))
            return;
        app->seen = 0; /* so that it is tried again */
        bool gives_way = err.code == ERR_ABSENT && app->screen_count > 1;
        if (app->message[0] == '\0' && gives_way)
            app_say(app, "%s", err.text);
        else if (app->message[0] == '\0')
            app_fail(app, &err);
        if (gives_way)
            app_pop(app);
    }
}

void app_draw(struct app *app, struct grid *grid)
{
    ledger_read_begin(app->ledger);
    refresh(app);
    if (!frame_too_small(grid, rows_needed(app)))
        top(app)->kind->draw(app, top(app)->state, grid);
    ledger_read_end(app->ledger);
}

/* Before another key is taken: was the one before recorded? */
static void settle(struct app *app)
{
    const struct screen *screen = top(app);
    bool recorded;
    struct err err;
    if (!transaction_settle(app->ledger, &recorded, &err)) {
        app_say(app, "It is still not certain whether the last key was recorded. %s", err.text);
        app_ring(app);
        app_hold_keys(app);
        return;
    }
    app->uncertain = false;
    app->stale = true;
    app_say(app, recorded ? "It was recorded." : "It was not recorded: press it again.");
    app_hold_keys(app);
    if (screen->kind->settled != NULL)
        screen->kind->settled(app, screen->state, recorded);
}

static void take_idle(struct app *app, const struct screen *screen)
{
    if (screen->kind->idle != NULL)
        screen->kind->idle(app, screen->state);
    else if (time_went_on(app))
        app->stale = true;
}

static void take_key(struct app *app, const struct screen *screen, struct key key)
{
    app_say(app, "%s", "");
    if (screen->kind->key != NULL)
        screen->kind->key(app, screen->state, key);
    else
        app_dispatch(app, screen->state, screen->kind->keys, key);
}

void app_key(struct app *app, struct key key)
{
    const struct screen *screen = top(app);
    bool pressed = key.kind != KEY_NONE;
    ledger_read_begin(app->ledger);
    if (pressed && throws_away(app)) {
        if (screen->kind->thrown_away != NULL)
            screen->kind->thrown_away(app, screen->state, key);
    } else if (app->uncertain) {
        settle(app);
    } else if (pressed) {
        take_key(app, screen, key);
    } else {
        take_idle(app, screen);
    }
    ledger_read_end(app->ledger);
}

int app_wait_ms(const struct app *app)
{
    const struct screen *screen = top(app);
    return screen->kind->wait_ms != NULL ? screen->kind->wait_ms(screen->state) : IDLE_MS;
}

void app_dispatch(struct app *app, void *state, const struct key_table *table, struct key key)
{
    char sentence[NO_KEY_SIZE];
    int number;
    if (keys_share(table, &list_keys) && list_find_key(state, key))
        return;
    const struct key_row *row = keys_find(table, key, &number);
    if (row != NULL) {
        row->handler(app, state, number);
        return;
    }
    keys_absent(table, key, sentence);
    app_say(app, "%s", sentence);
}

void app_leave(struct app *app, void *state, int number)
{
    app_pop(app);
}

/* The help is a screen too: any key turns its page, and leaves the last one. */

struct help_screen {
    const struct key_table *table;
    int page;
    bool more; /* there is a further page */
};

static void draw_help(struct app *app, void *state, struct grid *grid)
{
    struct help_screen *screen = state;
    screen->more = keys_help(grid, screen->table, screen->page);
}

static void turn_help(struct app *app, void *state, struct key key)
{
    struct help_screen *screen = state;
    if (screen->more)
        screen->page++;
    else
        app_pop(app);
}

void app_push_help(struct app *app, const struct key_table *table)
{
    static const struct screen_kind help = {.draw = draw_help, .key = turn_help, .done = free};
    struct help_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->table = table;
    app_push(app, &help, screen);
}

void app_help(struct app *app, void *state, int number)
{
    app_push_help(app, top(app)->kind->keys);
}

/* Forms are screens too. */

struct form_screen {
    struct form form;
    const struct form_task *task;
    void *context;
    struct app *app;
};

static bool check_line(void *owner, const struct form *form, int field, struct err *err)
{
    const struct form_screen *screen = owner;
    return screen->task->check(screen->app, form, screen->context, field, err);
}

static void draw_form(struct app *app, void *state, struct grid *grid)
{
    struct form_screen *screen = state;
    if (app->message[0] != '\0')
        form_refuse(&screen->form, -1, app->message);
    form_draw(grid, &screen->form);
}

/* What is wrong is said at its line; that it could not be saved, at the foot. */
static void accept_form(struct app *app, struct form_screen *screen)
{
    struct err err;
    int field = -1;
    if (screen->task->accept(app, &screen->form, screen->context, &field, &err))
        return;
    bool typed_wrong = err.code == ERR_INPUT || err.code == ERR_ABSENT || err.code == ERR_EXISTS ||
                       err.code == ERR_SYSTEM;
    if (typed_wrong)
        form_refuse(&screen->form, field, err.text);
    else
        app_fail(app, &err);
}

/* What it asked for is recorded, and must not be accepted a second time. */
static void settle_form(struct app *app, void *state, bool recorded)
{
    if (recorded)
        app_pop(app);
}

static void press_in_form(struct app *app, void *state, struct key key)
{
    struct form_screen *screen = state;
    switch (form_key(&screen->form, key)) {
    case FORM_ACCEPT:
        accept_form(app, screen);
        break;
    case FORM_LEAVE:
        app_pop(app);
        break;
    case FORM_HELP:
        app_push_help(app, &form_keys);
        break;
    case FORM_STAY:
        if (screen->task->adjust != NULL)
            screen->task->adjust(app, &screen->form, screen->context);
        break;
    }
}

static void done_with_form(void *state)
{
    struct form_screen *screen = state;
    if (screen->task->done != NULL)
        screen->task->done(screen->context);
    form_done(&screen->form);
    free(screen);
}

/* It scrolls, so it needs few rows: a keyboard on a touch screen takes half of them. */
static const struct screen_kind form_kind = {.draw = draw_form,
                                             .key = press_in_form,
                                             .settled = settle_form,
                                             .done = done_with_form,
                                             .rows = 12};

void app_push_form(struct app *app, const struct form *form, const struct form_task *task,
                   void *context)
{
    struct form_screen *screen = alloc_zeroed(1, sizeof *screen);
    *screen = (struct form_screen){*form, task, context, app};
    screen->form.check = task->check != NULL ? check_line : NULL;
    screen->form.owner = screen;
    app_today(app, screen->form.today);
    app_push(app, &form_kind, screen);
}

struct form *app_form(struct app *app)
{
    return top(app)->kind == &form_kind ? &((struct form_screen *)top(app)->state)->form : NULL;
}

void app_accept_form(struct app *app)
{
    if (top(app)->kind == &form_kind)
        accept_form(app, top(app)->state);
}
