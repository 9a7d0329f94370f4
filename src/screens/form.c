/* Forms on the stack, and the checks of what is typed into their lines. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screen.h"

#include <stdlib.h>
#include <string.h>

enum { CODES_MOST = 8 };

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
    struct screen *top = &app->screens[app->screen_count - 1];
    if (top->kind != &form_kind)
        return;
    struct form_screen *screen = top->state;
    screen->task->accept(app, &screen->form, screen->context);
}

/* Checks. */

bool check_code(const char *value, struct err *err)
{
    return code_check(value, "The code", err);
}

bool check_codes(const char *value, struct err *err)
{
    char list[FORM_VALUE_SIZE];
    char *rest = NULL;
    int count = 0;
    text_copy(list, sizeof list, value);
    for (char *code = strtok_r(list, ";", &rest); code != NULL; code = strtok_r(NULL, ";", &rest)) {
        if (!code_check(code, "A code", err))
            return false;
        count++;
    }
    return count <= CODES_MOST ||
           err_set(err, ERR_INPUT, "At most %d codes can be named here.", CODES_MOST);
}

bool check_day(const char *value, struct err *err)
{
    int64_t year;
    if (date_valid(value) || number_whole(value, 1900, 2199, &year))
        return true;
    return err_set(err, ERR_INPUT,
                   "Enter a date such as 2026-06-14, or the year alone, not \"%s\".", value);
}
