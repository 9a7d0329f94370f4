/* Joining another station's ledger: which file, then a page of what it would bring and what both
 * stations changed differently, and Enter joins it. The page is worked out by a join that is taken
 * back, so that it says what will be. */
#include "senbetsu/print/join.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/pager.h"

#include <stdlib.h>

struct join_screen {
    struct pager pager;
    char *file;
    bool joined;
};

static void show(struct app *app, struct join_screen *screen, const struct join *join)
{
    struct text pages;
    struct page_setup setup = page_default();
    setup.lines = 0;
    text_init(&pages);
    join_print(join, screen->file, !screen->joined, ledger_clock(app->ledger)->offset_minutes,
               setup, &pages);
    pager_set(&screen->pager, pages.data);
    text_done(&pages);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct join_screen *screen = state;
    char place[PAGER_PLACE_SIZE];
    pager_place(&screen->pager, place);
    pager_draw(&screen->pager, grid,
               app_frame(app, grid, screen->joined ? "joined" : "joining: nothing has changed yet",
                         place));
}

static void join(struct app *app, void *state, int number)
{
    struct join_screen *screen = state;
    struct join join;
    struct err err;
    if (screen->joined) {
        app_say(app, "It is joined already.");
        return;
    }
    if (!ledger_join(app->ledger, screen->file, false, &join, &err)) {
        app_fail(app, &err);
        return;
    }
    screen->joined = true;
    show(app, screen, &join);
    app_say(app, join.difference_count + join.clash_count > 0
                     ? "Joined. What is to be decided stands on the screen before."
                     : "Joined.");
    join_done(&join);
}

static const struct key_row rows[] = {
    {"Enter", "join", "add what is shown to this ledger; a copy of it is made first",
     .handler = join},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table join_keys = KEY_TABLE("Joining another station's ledger", rows);

static void done(void *state)
{
    struct join_screen *screen = state;
    pager_done(&screen->pager);
    free(screen->file);
    free(screen);
}

static const struct screen_kind join_kind = {.keys = &join_keys, .draw = draw, .done = done};

static const struct field_spec file_spec = {
    .label = "The other ledger", .hint = "its file, with the folder", .required = true};

static bool preview(struct app *app, struct form *form, void *context, int *ret_field,
                    struct err *err)
{
    struct join join;
    const char *file = form->fields[0].value;
    *ret_field = 0;
    if (!ledger_join(app->ledger, file, true, &join, err))
        return false;
    struct join_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->file = alloc_text(file);
    show(app, screen, &join);
    join_done(&join);
    app_pop(app);
    app_push(app, &join_kind, screen);
    return true;
}

void app_ask_join(struct app *app)
{
    static const struct form_task task = {.accept = preview};
    struct form form;
    form_init(&form, "Join another station's ledger", &file_spec, 1);
    text_copy(form.below, sizeof form.below,
              "It is only read. What it brings is shown before anything changes,\n"
              "and of this ledger a copy is made first.");
    app_push_form(app, &form, &task, NULL);
}
