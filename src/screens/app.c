#include "senbetsu/screens/app.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"
#include "senbetsu/ui/notice.h"
#include "senbetsu/ui/term.h"

#include <stdarg.h>
#include <stdio.h>

static struct screen *front(struct app *app)
{
    return app->screen_count > 0 ? &app->screens[app->screen_count - 1] : NULL;
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
    struct screen *screen = front(app);
    app->screen_count--;
    screen->kind->done(screen->state);
    app->stale = true;
}

void app_say(struct app *app, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(app->message, sizeof app->message, format, arguments);
    va_end(arguments);
    app->alert = false;
}

bool app_fail(struct app *app, const struct err *err)
{
    app_say(app, "%s", err->text);
    app->alert = true;
    term_alert();
    return false;
}

void app_today(const struct app *app, char ret_day[11])
{
    clock_today(ledger_clock(app->ledger), ret_day);
}

void app_list_act(struct app *app, int action)
{
    if (action == LIST_HELP)
        app_push_help(app, front(app)->kind->context);
    else if (action == LIST_LEAVE)
        app_pop(app);
}

static void refresh(struct app *app)
{
    struct screen *screen = front(app);
    struct err err;
    app->stale = false;
    if (screen->kind->refresh != NULL && !screen->kind->refresh(app, screen->state, &err))
        app_fail(app, &err);
}

static bool too_small(const struct app *app)
{
    return app->grid.rows < GRID_MIN_ROWS || app->grid.columns < GRID_MIN_COLUMNS;
}

static void fit_grid(struct app *app)
{
    int rows, columns;
    term_size(&rows, &columns);
    grid_done(&app->grid);
    grid_init(&app->grid, rows, columns);
}

static void show(struct app *app)
{
    struct screen *screen = front(app);
    if (!notice_too_small(&app->grid))
        screen->kind->draw(app, screen->state, &app->grid);
    term_show(&app->grid);
}

static void idle(struct app *app)
{
    struct screen *screen = front(app);
    if (screen->kind->idle != NULL)
        screen->kind->idle(app, screen->state);
    else
        app->stale = true;
}

static void tell_if_absent(struct app *app, enum context context, struct key key)
{
    char sentence[NO_KEY_SIZE];
    if (binding_find(context, key) != NULL)
        return;
    binding_absent(context, key, sentence);
    app_say(app, "%s", sentence);
}

static void press(struct app *app, struct key key)
{
    struct screen *screen = front(app);
    if (too_small(app))
        return;
    app_say(app, "%s", "");
    if (screen->kind->all_bound)
        tell_if_absent(app, screen->kind->context, key);
    screen->kind->key(app, screen->state, key);
}

static struct key next_key(struct app *app)
{
    const struct screen *screen = front(app);
    return term_read(screen->kind->wait_ms != NULL ? screen->kind->wait_ms(screen->state)
                                                   : IDLE_MS);
}

/* Until the last screen is left, or the line is cut: then every screen goes without a key having
 * been pressed, and the ledger holds the place as it was. */
static void run(struct app *app)
{
    while (front(app) != NULL) {
        if (app->stale)
            refresh(app);
        show(app);
        struct key key = next_key(app);
        if (key.kind == KEY_HANGUP)
            break;
        if (key.kind == KEY_RESIZED)
            fit_grid(app);
        else if (key.kind == KEY_NONE)
            idle(app);
        else
            press(app, key);
    }
    while (front(app) != NULL)
        app_pop(app);
}

/* Back into the sheet if it was open when the program ended, else to the seasons. */
static bool start(struct app *app, const char *judge, struct err *err)
{
    struct place place;
    if (!app_find_judge(app, judge, err))
        return false;
    app_open_home(app);
    if (app->judge_name[0] == '\0')
        app_ask_judge(app);
    else if (place_get(app->ledger, app->judge, &place, err)) {
        if (place.in_sheet)
            app_open_place(app, &place);
    } else if (err->code != ERR_ABSENT)
        return false;
    return true;
}

bool app_run(struct ledger *ledger, const struct app_options *options, struct err *err)
{
    struct app app = {.ledger = ledger};
    if (!term_enter(options->mono, err))
        return false;
    alloc_on_fatal(term_leave);
    fit_grid(&app);
    bool started = start(&app, options->judge, err);
    if (started)
        run(&app);
    while (front(&app) != NULL)
        app_pop(&app);
    term_leave();
    alloc_on_fatal(NULL);
    grid_done(&app.grid);
    return started;
}
