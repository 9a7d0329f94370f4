/* The cull list, read on screen before it is printed. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/cli/app_screens.h"
#include "senbetsu/cli/cull_list_make.h"
#include "senbetsu/cli/output.h"
#include "senbetsu/ui/reader_view.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

struct list_screen {
    int64_t round_id;
    struct reader_view view;
    struct text pages;
};

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct list_screen *screen = state;
    struct round round;
    struct cull_list_made made;
    if (!round_get(app->ledger, screen->round_id, &round, err) ||
        !cull_list_of_round(app->ledger, &round, &made, err))
        return false;
    struct page_setup setup = page_default();
    setup.ascii = screen->view.ascii;
    text_clear(&screen->pages);
    cull_list_print(&made.list, setup, &screen->pages);
    cull_list_done(&made);
    reader_set(&screen->view, screen->pages.data);
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct list_screen *screen = state;
    screen->view.title = "The cull list";
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    reader_draw(grid, &screen->view);
}

static const struct field_spec save_specs[] = {
    {.label = "File", .hint = "its name, with the folder", .check = CHECK_TEXT, .required = true},
};

/* With the folder: nobody remembers in the evening where the program was started. */
static void say_where(struct app *app, const char *name)
{
    char folder[PATH_MAX] = "";
    bool beside = name[0] != '/' && getcwd(folder, sizeof folder) != NULL;
    app_say(app, "The list is in %s%s%s.", folder, beside ? "/" : "", name);
}

static void save(struct app *app, struct form *form, void *context)
{
    const struct text *pages = context;
    struct err err;
    if (access(form->fields[0].value, F_OK) == 0) {
        form_refuse(form, 0, "There is already a file of this name; choose another.");
        return;
    }
    if (!output_file(form->fields[0].value, pages, &err)) {
        form_refuse(form, 0, err.text);
        return;
    }
    say_where(app, form->fields[0].value);
    app_pop(app);
}

/* One file a day, so that no list takes the place of another evening's. */
static void suggest_name(const struct app *app, struct form *form)
{
    char today[11], name[32];
    app_today(app, today);
    snprintf(name, sizeof name, "cull-list-%s.txt", today);
    form_set(form, 0, name);
}

static void ask_where(struct app *app, struct list_screen *screen)
{
    static const struct form_task task = {.accept = save};
    struct form form;
    form_init(&form, "Save the list", save_specs, 1);
    suggest_name(app, &form);
    app_push_form(app, &form, &task, &screen->pages);
}

static void print(struct app *app, const struct list_screen *screen)
{
    struct err err;
    if (output_printer(NULL, &screen->pages, &err))
        app_say(app, "The list is on its way to the printer.");
    else
        app_fail(app, &err);
}

static void press(struct app *app, void *state, struct key key)
{
    struct list_screen *screen = state;
    switch (reader_key(&screen->view, key)) {
    case READER_SAVE:
        ask_where(app, screen);
        break;
    case READER_PRINT:
        print(app, screen);
        break;
    case READER_ASCII:
        screen->view.ascii = !screen->view.ascii;
        app->stale = true;
        break;
    case LIST_HELP:
        app_push_help(app, CONTEXT_READER);
        break;
    case LIST_LEAVE:
        app_pop(app);
        break;
    default:
        break;
    }
}

static void done(void *state)
{
    struct list_screen *screen = state;
    reader_done(&screen->view);
    text_done(&screen->pages);
    free(screen);
}

static const struct screen_kind list_kind = {.refresh = refresh,
                                             .draw = draw,
                                             .key = press,
                                             .done = done,
                                             .all_bound = true,
                                             .context = CONTEXT_READER};

void app_open_list(struct app *app, int64_t round_id)
{
    struct list_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->round_id = round_id;
    text_init(&screen->pages);
    reader_set(&screen->view, "");
    app_push(app, &list_kind, screen);
}
