/* Where the screens begin: who judges, the first screen, the terminal taken and given back around
 * the loop (loop.c). */
#include "senbetsu/screens/start.h"
#include "loop.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/daily.h"
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

static bool check_name(const char *value, struct err *err)
{
    return code_check(value, "The name", err);
}

static const struct field_spec specs[] = {
    {.label = "Your name",
     .hint = "as recorded with each judgement",
     .check = check_name,
     .required = true},
};

/* Whoever has judged before: a keypad has no letters, so a digit picks a name. */
struct known_judges {
    struct judge *judges;
    size_t count;
};

enum { PICKED_BY_DIGIT = 9 };

static void pick(struct app *app, struct form *form, void *context)
{
    const struct known_judges *known = context;
    int64_t digit;
    if (known->count == 0 || !number_whole(form->fields[0].value, 0, PICKED_BY_DIGIT, &digit))
        return;
    bool is_one = digit >= 1 && (size_t)digit <= known->count;
    form_set(form, 0, is_one ? known->judges[digit - 1].name : "");
    form->edited = !is_one;
    if (!is_one)
        form_refuse(form, -1, "No name has this number; type the name where it is a new one.");
}

static bool accept(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    *ret_field = 0;
    if (!take_name(app, form->fields[0].value, err))
        return false;
    app_pop(app);
    return true;
}

static void forget_judges(void *context)
{
    struct known_judges *known = context;
    free(known->judges);
    free(known);
}

static void list_names(const struct known_judges *known, struct form *form)
{
    struct text lines;
    text_init(&lines);
    if (known->count > 0)
        text_add(&lines, "A digit picks a name; Enter takes it.\n");
    for (size_t i = 0; i < known->count && i < PICKED_BY_DIGIT; i++)
        text_addf(&lines, "%zu  %s\n", i + 1, known->judges[i].name);
    text_copy(form->below, sizeof form->below, lines.data);
    text_done(&lines);
}

void app_ask_judge(struct app *app)
{
    static const struct form_task task = {.accept = accept, .adjust = pick, .done = forget_judges};
    struct known_judges *known = alloc_zeroed(1, sizeof *known);
    struct form form;
    struct err err;
    form_init(&form, "Who judges?", specs, 1);
    form_set(&form, 0, app->judge_name);
    if (!judge_list(app->ledger, &known->judges, &known->count, &err))
        app_fail(app, &err);
    for (size_t i = 0; i < known->count; i++)
        form_suggest(&form, 0, known->judges[i].name);
    list_names(known, &form);
    app_push_form(app, &form, &task, known);
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
    static const struct loop_terminal terminal = {term_size, term_show, term_read};
    struct app app = {.ledger = ledger, .bounce_ms = options->bounce_ms};
    if (!term_enter(options->mono, err))
        return false;
    alloc_on_fatal(term_leave);
    ledger_read_begin(ledger);
    bool started = open_first(&app, options->judge, err);
    if (started)
        app_open_notices(&app);
    ledger_read_end(ledger);
    app.daily = daily_new(ledger, DAILY_MEANWHILE);
    if (started)
        app_loop(&app, &terminal);
    daily_free(app.daily);
    app_pop_all(&app);
    term_leave();
    alloc_on_fatal(NULL);
    if (started && !ledger_check_place(ledger, err))
        return false;
    if (started && app.gone.code != ERR_NONE)
        return err_set(err, app.gone.code, "%s", app.gone.text);
    return started;
}
