/* What the ledger's notices say (store/notices.c), before anything else: a page that lies on top of
 * the screen the program begins with, whichever that is, for whoever goes on at once with a bowl
 * would never see it at home. Any key turns it; keys typed before it was painted do not. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/frame.h"

#include <stdlib.h>

struct notices_screen {
    char *const *sentences; /* the ledger's */
    size_t count;
    size_t first, next; /* on this page, and on the next one */
};

enum { NOTICE_ROWS = 6 }; /* the most that one sentence takes */

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct notices_screen *screen = state;
    struct body body = app_frame(app, grid, "Before you begin", NULL);
    int row = body.top + 1, end = body.top + body.rows;
    for (screen->next = screen->first; screen->next < screen->count; screen->next++) {
        if (screen->next > screen->first && row + NOTICE_ROWS > end)
            break;
        row += 1 + grid_wrap(grid, row, TEXT_COLUMN, NOTICE_ROWS, STYLE_STRONG,
                             screen->sentences[screen->next]);
    }
    grid_put(grid, grid->rows - 1, CURSOR_COLUMN, -1, STYLE_QUIET,
             screen->next < screen->count ? "any key: more" : "any key: go on");
}

static void turn(struct app *app, void *state, struct key key)
{
    struct notices_screen *screen = state;
    screen->first = screen->next;
    if (screen->first < screen->count)
        return;
    ledger_notices_seen(app->ledger);
    app_pop(app);
}

static const struct screen_kind notices_kind = {.draw = draw, .key = turn, .done = free};

void app_open_notices(struct app *app)
{
    char *const *sentences;
    size_t count = ledger_notices(app->ledger, &sentences);
    if (count == 0)
        return;
    struct notices_screen *screen = alloc_zeroed(1, sizeof *screen);
    *screen = (struct notices_screen){.sentences = sentences, .count = count};
    app_push(app, &notices_kind, screen);
    app_hold_keys(app);
}
