#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screen.h"

#include <stdlib.h>

struct form_screen {
    struct form form;
    const struct form_task *task;
    void *context;
};

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct form_screen *screen = state;
    if (app->message[0] != '\0' && screen->form.wrong < 0)
        form_refuse(&screen->form, -1, app->message);
    form_draw(grid, &screen->form);
}

static void press(struct app *app, void *state, struct key key)
{
    struct form_screen *screen = state;
    switch (form_key(&screen->form, key)) {
    case FORM_ACCEPT:
        screen->task->accept(app, &screen->form, screen->context);
        return;
    case FORM_LEAVE:
        app_pop(app);
        return;
    case FORM_HELP:
        app_push_help(app, CONTEXT_FORM);
        return;
    case FORM_STAY:
    case FORM_ENTER:
    case FORM_UP:
    case FORM_DOWN:
    case FORM_BEFORE:
    case FORM_AFTER:
    case FORM_ERASE:
    case FORM_EMPTY:
    case FORM_MINUS:
        if (screen->task->adjust != NULL)
            screen->task->adjust(app, &screen->form, screen->context);
    }
}

static void done(void *state)
{
    struct form_screen *screen = state;
    if (screen->task->done != NULL)
        screen->task->done(screen->context);
    free(screen);
}

static const struct screen_kind form_kind = {.draw = draw, .key = press, .done = done};

void app_push_form(struct app *app, const struct form *form, const struct form_task *task,
                   void *context)
{
    struct form_screen *screen = alloc_zeroed(1, sizeof *screen);
    *screen = (struct form_screen){*form, task, context};
    app_push(app, &form_kind, screen);
}

void app_accept_form(struct app *app)
{
    struct screen *front = &app->screens[app->screen_count - 1];
    if (front->kind != &form_kind)
        return;
    struct form_screen *screen = front->state;
    screen->task->accept(app, &screen->form, screen->context);
}
