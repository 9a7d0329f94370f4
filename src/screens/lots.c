/* The lots of a spawning, those mixed from its fish among them, filled from the ledger. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/lot_items.h"
#include "senbetsu/screens/screens.h"

#include <stdlib.h>

struct lot_screen {
    struct lot_view view;
    struct lot_line *lines; /* of all lots */
    size_t line_count;
    const struct lot_line **shown; /* as the view has them */
    struct lot_event *events;      /* of all lots */
    size_t event_count;
    int64_t asked; /* the event that another `-` takes back, 0 = none */
};

static void forget(struct lot_screen *screen)
{
    lot_lines_free(screen->lines, screen->line_count);
    free(screen->events);
    free(screen->shown);
    free(screen->view.lots);
}

/* NULL before the screen was filled. */
static const struct lot_line *front(const struct lot_screen *screen)
{
    return screen->view.lot_count > 0 ? screen->shown[screen->view.list.current] : NULL;
}

static void show(struct lot_screen *screen, const struct lot_line *line)
{
    size_t at = screen->view.lot_count++;
    screen->shown[at] = line;
    lot_item_fill(&screen->view.lots[at], line, screen->events, screen->event_count);
}

/* The spawning's own first, then those mixed from its fish and others'. The hand stays on its lot.
 */
static void fill(struct lot_screen *screen, int64_t in_front)
{
    struct lot_view *view = &screen->view;
    screen->shown = alloc_zeroed(screen->line_count + 1, sizeof(const struct lot_line *));
    view->lots = alloc_zeroed(screen->line_count + 1, sizeof *view->lots);
    view->lot_count = 0;
    for (int mixed = 0; mixed <= 1; mixed++)
        for (size_t i = 0; i < screen->line_count; i++)
            if (screen->lines[i].of.mixed == (mixed == 1) &&
                code_in_list(screen->lines[i].of.spawnings, view->spawning))
                show(screen, &screen->lines[i]);
    lot_ready(view);
    for (size_t i = 0; i < view->lot_count; i++)
        if (screen->shown[i]->of.lot_id == in_front)
            list_to(&view->list, (int)i);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct lot_screen *screen = state;
    struct lot_line *lines;
    struct lot_event *events;
    size_t line_count, event_count;
    int64_t in_front = front(screen) != NULL ? front(screen)->of.lot_id : 0;
    if (!lot_lines_list(app->ledger, &lines, &line_count, err))
        return false;
    if (!lot_events_list(app->ledger, &events, &event_count, err)) {
        lot_lines_free(lines, line_count);
        return false;
    }
    forget(screen);
    screen->lines = lines;
    screen->line_count = line_count;
    screen->events = events;
    screen->event_count = event_count;
    fill(screen, in_front);
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct lot_screen *screen = state;
    screen->view.judge = app->judge_name;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    lot_draw(grid, &screen->view);
}

static void tell(struct app *app, const char *what, const struct lot_event *event, int64_t lot_id)
{
    struct text text;
    text_init(&text);
    lot_event_text(event, lot_id, &text);
    app_say(app, "%s: %s.", what, text.data);
    text_done(&text);
}

/* Nothing gives back what was taken back, so it is asked first. */
static void undo(struct app *app, struct lot_screen *screen, int64_t asked)
{
    int64_t lot_id = front(screen)->of.lot_id;
    struct lot_event event;
    struct err err;
    app->stale = true; /* another session may have recorded something */
    if (asked == 0 ? !lot_last_event(app->ledger, lot_id, &event, &err)
                   : !lot_undo(app->ledger, lot_id, asked, app->judge, &event, &err)) {
        app_fail(app, &err);
        return;
    }
    tell(app, asked == 0 ? "- again takes back" : "Taken back", &event, lot_id);
    screen->asked = asked == 0 ? event.id : 0;
}

static void act(struct app *app, struct lot_screen *screen, const struct lot_line *lot, int action,
                int64_t asked)
{
    switch (action) {
    case LIST_CHOOSE:
        app_open_lot(app, lot->of.lot_id);
        break;
    case LOT_DEAD:
        app_ask_lot_fish(app, lot, EVENT_DEAD);
        break;
    case LOT_LOST:
        app_ask_lot_fish(app, lot, EVENT_LOST);
        break;
    case LOT_FOUND:
        app_ask_lot_fish(app, lot, EVENT_FOUND);
        break;
    case LOT_COUNT:
        app_ask_lot_fish(app, lot, EVENT_COUNT);
        break;
    case LOT_MOVE:
        app_ask_lot_pond(app, lot);
        break;
    case LOT_SPLIT:
        app_ask_lot_split(app, lot);
        break;
    case LOT_MERGE:
        app_ask_lot_merge(app, lot);
        break;
    case LOT_UNDO:
        undo(app, screen, asked);
        break;
    case LOT_HISTORY:
        app_open_lot_history(app, lot->of.lot_id);
        break;
    default:
        break;
    }
}

static void press(struct app *app, void *state, struct key key)
{
    struct lot_screen *screen = state;
    const struct lot_line *lot = front(screen);
    int64_t asked = screen->asked;
    screen->asked = 0;
    int action = list_key(&screen->view.list, CONTEXT_LOTS, key);
    if (action == LIST_HELP || action == LIST_LEAVE)
        app_list_act(app, action);
    else if (lot != NULL)
        act(app, screen, lot, action, asked);
}

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind lot_kind = {.refresh = refresh,
                                            .draw = draw,
                                            .key = press,
                                            .done = done,
                                            .all_bound = true,
                                            .context = CONTEXT_LOTS};

void app_open_lots(struct app *app, const char *spawning)
{
    struct lot_screen *screen = alloc_zeroed(1, sizeof *screen);
    text_copy(screen->view.spawning, sizeof screen->view.spawning, spawning);
    app_push(app, &lot_kind, screen);
}
