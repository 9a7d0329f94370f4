/* The first screen, and the loop that carries keys from the terminal to the stack of screens and
 * cells back. */
#include "senbetsu/screens/start.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/term.h"

static void fit_grid(struct grid *grid)
{
    int rows, columns;
    term_size(&rows, &columns);
    grid_done(grid);
    grid_init(grid, rows, columns);
}

static bool is_too_small(const struct grid *grid)
{
    return grid->rows < GRID_MIN_ROWS || grid->columns < GRID_MIN_COLUMNS;
}

/* Until the last screen is left, or the line is cut: then every screen goes without a key having
 * been pressed, and the ledger holds the place as it was. */
static void run(struct app *app, struct grid *grid)
{
    while (app->screen_count > 0) {
        app_draw(app, grid);
        term_show(grid);
        struct key key = term_read(app_wait_ms(app));
        if (key.kind == KEY_HANGUP)
            return;
        if (key.kind == KEY_RESIZED)
            fit_grid(grid);
        else if (key.kind == KEY_NONE || !is_too_small(grid))
            app_key(app, key);
    }
}

/* Back into the sheet if it was open when the program ended, else to the seasons. */
static bool open_first(struct app *app, const char *judge, struct err *err)
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
    struct grid grid = {0};
    if (!term_enter(options->mono, err))
        return false;
    alloc_on_fatal(term_leave);
    fit_grid(&grid);
    bool started = open_first(&app, options->judge, err);
    if (started)
        run(&app, &grid);
    app_pop_all(&app);
    term_leave();
    alloc_on_fatal(NULL);
    grid_done(&grid);
    return started;
}
