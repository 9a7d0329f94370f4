/* Printed pages, read on screen before they go to a file or to paper. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/host/output.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/pager.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

struct pages_screen {
    const struct pages_kind *kind;
    int64_t of;
    struct pager view;
    struct text pages;
};

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct pages_screen *screen = state;
    struct page_setup setup = page_default();
    struct text pages;
    setup.ascii = screen->view.ascii;
    text_init(&pages);
    if (!screen->kind->make(app, screen->of, setup, &pages, err)) {
        text_done(&pages);
        return false;
    }
    text_done(&screen->pages);
    screen->pages = pages;
    pager_set(&screen->view, screen->pages.data);
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pages_screen *screen = state;
    screen->view.title = screen->kind->title;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    pager_draw(grid, &screen->view);
}

static const struct field_spec save_specs[] = {
    {.label = "File", .hint = "its name, with the folder", .check = CHECK_TEXT, .required = true},
};

/* With the folder: nobody remembers in the evening where the program was started. */
static void say_where(struct app *app, const struct pages_screen *screen, const char *name)
{
    char folder[PATH_MAX] = "";
    bool beside = name[0] != '/' && getcwd(folder, sizeof folder) != NULL;
    app_say(app, "%s is in %s%s%s.", screen->kind->title, folder, beside ? "/" : "", name);
}

static void save(struct app *app, struct form *form, void *context)
{
    const struct pages_screen *screen = context;
    struct err err;
    if (access(form->fields[0].value, F_OK) == 0) {
        form_refuse(form, 0, "There is already a file of this name; choose another.");
        return;
    }
    if (!output_file(form->fields[0].value, &screen->pages, &err)) {
        form_refuse(form, 0, err.text);
        return;
    }
    say_where(app, screen, form->fields[0].value);
    app_pop(app);
}

/* One file a day, so that none takes the place of another evening's. */
static void suggest_name(const struct app *app, const struct pages_screen *screen,
                         struct form *form)
{
    char today[11], name[64];
    app_today(app, today);
    snprintf(name, sizeof name, "%s-%s.txt", screen->kind->file, today);
    form_set(form, 0, name);
}

static void ask_where(struct app *app, struct pages_screen *screen)
{
    static const struct form_task task = {.accept = save};
    struct form form;
    form_init(&form, screen->kind->save, save_specs, 1);
    suggest_name(app, screen, &form);
    app_push_form(app, &form, &task, screen);
}

static void print(struct app *app, const struct pages_screen *screen)
{
    struct err err;
    if (output_printer(NULL, &screen->pages, &err))
        app_say(app, "%s is on its way to the printer.", screen->kind->title);
    else
        app_fail(app, &err);
}

static void press(struct app *app, void *state, struct key key)
{
    struct pages_screen *screen = state;
    int action = pager_key(&screen->view, key);
    switch (action) {
    case PAGER_SAVE:
        ask_where(app, screen);
        break;
    case PAGER_PRINT:
        print(app, screen);
        break;
    case PAGER_ASCII:
        screen->view.ascii = !screen->view.ascii;
        app->stale = true;
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void done(void *state)
{
    struct pages_screen *screen = state;
    pager_done(&screen->view);
    text_done(&screen->pages);
    free(screen);
}

static const struct screen_kind pages_screen_kind = {.refresh = refresh,
                                                     .draw = draw,
                                                     .key = press,
                                                     .done = done,
                                                     .all_bound = true,
                                                     .context = CONTEXT_PAGER};

void app_open_pages(struct app *app, const struct pages_kind *kind, int64_t of)
{
    struct pages_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->kind = kind;
    screen->of = of;
    text_init(&screen->pages);
    pager_set(&screen->view, "");
    app_push(app, &pages_screen_kind, screen);
}
