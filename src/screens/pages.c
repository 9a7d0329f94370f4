/* Printed pages, read on screen before they go to a file or to paper. What the pages say is made by
 * the caller's function, which is called again when ASCII is chosen: what is seen is what is saved
 * or printed, byte for byte. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/host/output.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/pager.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct pages_screen {
    struct pager pager;
    struct screen_kind screen; /* with the kind's keys */
    const struct pages_kind *kind;
    int64_t of;
    bool ascii; /* the pages are plain ASCII */
    struct text pages;
};

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct pages_screen *screen = state;
    struct page_setup setup = page_default();
    struct text pages;
    setup.ascii = screen->ascii;
    text_init(&pages);
    if (!screen->kind->make(app, screen->of, setup, &pages, err)) {
        text_done(&pages);
        return false;
    }
    text_done(&screen->pages);
    screen->pages = pages;
    pager_set(&screen->pager, screen->pages.data);
    return true;
}

/* "The cull list: 2026-11-05, Thursday", "The season book: 2026". */
static void add_date(const struct pages_screen *screen, char *title, size_t size)
{
    char date[11];
    size_t used = strlen(title);
    screen->kind->date(screen->of, date);
    bool day = date_valid(date);
    snprintf(title + used, size - used, ": %s%s%s", date, day ? ", " : "",
             day ? date_weekday(date) : "");
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pages_screen *screen = state;
    char place[PAGER_PLACE_SIZE], beside[PAGER_PLACE_SIZE + 16], title[128];
    text_copy(title, sizeof title, screen->kind->title);
    if (screen->kind->date != NULL)
        add_date(screen, title, sizeof title);
    pager_place(&screen->pager, place);
    snprintf(beside, sizeof beside, "%s%s", place, screen->ascii ? ", ASCII" : "");
    pager_draw(&screen->pager, grid, app_frame(app, grid, title, beside));
}

static const struct field_spec save_specs[] = {
    {.label = "File", .hint = "its name, with the folder", .required = true},
};

/* With the folder: nobody remembers in the evening where the program was started. */
static void say_where(struct app *app, const struct pages_screen *screen, const char *name)
{
    char folder[PATH_MAX] = "";
    bool beside = name[0] != '/' && getcwd(folder, sizeof folder) != NULL;
    app_say(app, "%s is in %s%s%s.", screen->kind->title, folder, beside ? "/" : "", name);
}

struct save_task {
    const struct pages_screen *screen;
    bool asked; /* another Enter replaces the file */
};

/* Any key but the one that accepts takes the question back. */
static void take_back(struct app *app, struct form *form, void *context)
{
    struct save_task *task = context;
    task->asked = false;
}

/* The question is a refusal that the next Enter overrides. */
static bool save(struct app *app, struct form *form, void *context, int *ret_field, struct err *err)
{
    struct save_task *task = context;
    const char *name = form->fields[0].value;
    const char *ledger = ledger_path(app->ledger);
    struct err why = {0};
    if (output_file(name, ledger, task->asked, &task->screen->pages, &why)) {
        say_where(app, task->screen, name);
        app_pop(app);
        return true;
    }
    *ret_field = 0;
    task->asked = why.code == ERR_EXISTS;
    return task->asked ? err_set(err, ERR_EXISTS,
                                 "There is already a file of this name. Enter again replaces it.")
                       : err_set(err, why.code, "%s", why.text);
}

/* One file a date, so that none takes the place of another evening's. */
static void suggest_name(const struct app *app, const struct pages_screen *screen,
                         struct form *form)
{
    char date[11], name[64];
    if (screen->kind->date != NULL)
        screen->kind->date(screen->of, date);
    else
        app_today(app, date);
    snprintf(name, sizeof name, "%s-%s.txt", screen->kind->file, date);
    form_set(form, 0, name);
}

static void ask_where(struct app *app, void *state, int number)
{
    struct pages_screen *screen = state;
    static const struct form_task functions = {.accept = save, .adjust = take_back, .done = free};
    struct save_task *task = alloc_zeroed(1, sizeof *task);
    struct form form;
    task->screen = screen;
    form_init(&form, screen->kind->save, save_specs, 1);
    suggest_name(app, screen, &form);
    app_push_form(app, &form, &functions, task);
}

static void print(struct app *app, void *state, int number)
{
    const struct pages_screen *screen = state;
    struct err err;
    if (output_printer(NULL, &screen->pages, &err))
        app_say(app, "%s was sent to the printer.", screen->kind->title);
    else
        app_fail(app, &err);
}

static void toggle_ascii(struct app *app, void *state, int number)
{
    struct pages_screen *screen = state;
    screen->ascii = !screen->ascii;
    app->stale = true;
}

static const struct key_row output_rows[] = {
    {"4 s", "save", "save it to a file", .handler = ask_where},
    {"5 p", "print", "send it to the printer", .handler = print},
    {"6 a", "plain ASCII", "plain ASCII, or all characters", .handler = toggle_ascii},
};

const struct key_table pages_output_keys = KEY_TABLE(NULL, output_rows);

static const struct key_row rows[] = {
    {.shared = &pages_output_keys},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table pages_keys = KEY_TABLE("Reading a list", rows);

static void done(void *state)
{
    struct pages_screen *screen = state;
    pager_done(&screen->pager);
    text_done(&screen->pages);
    free(screen);
}

void app_open_pages(struct app *app, const struct pages_kind *kind, int64_t of)
{
    struct pages_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->kind = kind;
    screen->of = of;
    text_init(&screen->pages);
    pager_set(&screen->pager, "");
    screen->screen = (struct screen_kind){.keys = kind->keys != NULL ? kind->keys : &pages_keys,
                                          .refresh = refresh,
                                          .draw = draw,
                                          .done = done};
    app_push(app, &screen->screen, screen);
}

const struct pages_kind *pages_shown(const void *state, int64_t *ret_of)
{
    const struct pages_screen *screen = state;
    *ret_of = screen->of;
    return screen->kind;
}

void pages_show(struct app *app, void *state, const struct pages_kind *kind, int64_t of)
{
    struct pages_screen *screen = state;
    screen->kind = kind;
    screen->of = of;
    list_to(&screen->pager.list, 0);
    app->stale = true;
}

/* The cull list of a round. */

static bool make_list(struct app *app, int64_t round_id, struct page_setup setup, struct text *out,
                      struct err *err)
{
    struct round round;
    struct cull_list made;
    if (!round_get(app->ledger, round_id, &round, err) ||
        !cull_list_of_round(app->ledger, &round, &made, err))
        return false;
    cull_list_print(&made, setup, out);
    cull_list_done(&made);
    return true;
}

void app_open_list(struct app *app, int64_t round_id)
{
    static const struct pages_kind kind = {
        .title = "The cull list", .save = "Save the list", .file = "cull-list", .make = make_list};
    app_open_pages(app, &kind, round_id);
}
