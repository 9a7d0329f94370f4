/* Where the screens begin: who judges, the first screen, and the loop that carries keys from the
 * terminal to the stack of screens and cells back. Nothing else here reads the terminal, so all
 * screens can be worked without one. */
#include "senbetsu/screens/start.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/ui/term.h"

#include <stdlib.h>

/* The judge with this id; where nobody has judged yet (id -1), the only one that the ledger knows.
 */
static bool find(struct app *app, int64_t judge, struct err *err)
{
    struct judge *judges;
    size_t count;
    if (!judge_list(app->ledger, &judges, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (judges[i].id != judge && (judge != -1 || count > 1))
            continue;
        app->judge = judges[i].id;
        text_copy(app->judge_name, sizeof app->judge_name, judges[i].name);
    }
    free(judges);
    return true;
}

static bool take_name(struct app *app, const char *name, struct err *err)
{
    if (!code_check(name, "The judge's name", err) ||
        !judge_named(app->ledger, name, &app->judge, err))
        return false;
    text_copy(app->judge_name, sizeof app->judge_name, name);
    return true;
}

bool app_find_judge(struct app *app, const char *name, struct err *err)
{
    struct place place;
    if (name != NULL && name[0] != '\0')
        return take_name(app, name, err);
    if (place_get(app->ledger, -1, &place, err))
        return find(app, place.judge, err);
    return err->code == ERR_ABSENT && find(app, -1, err);
}

static const struct field_spec specs[] = {
    {.label = "Your name",
     .hint = "as recorded with each judgement",
     .check = check_code,
     .required = true},
};

static bool accept(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    *ret_field = 0;
    if (!take_name(app, form->fields[0].value, err))
        return false;
    app_pop(app);
    return true;
}

void app_ask_judge(struct app *app)
{
    static const struct form_task task = {.accept = accept};
    struct form form;
    form_init(&form, "Who judges?", specs, 1);
    form_set(&form, 0, app->judge_name);
    app_push_form(app, &form, &task, NULL);
}

static void fit_grid(struct grid *grid)
{
    int rows, columns;
    term_size(&rows, &columns);
    grid_done(grid);
    grid_init(grid, rows, columns);
}

/* Until the last screen is left, or the line is cut: then every screen goes without a key having
 * been pressed, and the ledger holds the place as it was. */
static void run(struct app *app, struct grid *grid)
{
    while (app->screen_count > 0) {
        bool small = grid->rows < GRID_MIN_ROWS || grid->columns < GRID_MIN_COLUMNS;
        app_draw(app, grid);
        term_show(grid);
        struct key key = term_read(app_wait_ms(app));
        if (key.kind == KEY_HANGUP)
            return;
        if (key.kind == KEY_RESIZED)
            fit_grid(grid);
        else if (key.kind == KEY_NONE || !small) /* nobody judges what cannot be seen */
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
