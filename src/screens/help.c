#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screen.h"

#include <stdlib.h>

static void draw(struct app *app, void *state, struct grid *grid)
{
    (void)app;
    help_draw(grid, *(const enum context *)state);
}

static void press(struct app *app, void *state, struct key key)
{
    (void)state;
    (void)key;
    app_pop(app);
}

static const struct screen_kind help_kind = {.draw = draw, .key = press, .done = free};

void app_push_help(struct app *app, enum context context)
{
    enum context *state = alloc_zeroed(1, sizeof *state);
    *state = context;
    app_push(app, &help_kind, state);
}
