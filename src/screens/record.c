/* A record: what can be put right of it, and everything that was changed of it. One screen serves
 * all kinds; what can be done with a kind is a row of its table. A retired record can only be
 * brought back. Of a lot the events stand here as well, for each of them can be put right. */
#include "corrections.h"
#include "lots.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/ui/list.h"
#include "varieties.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What can be done. */

static void change_spawning(struct app *app, enum record_kind kind, int64_t id)
{
    struct spawning *spawnings;
    size_t count, i = 0;
    struct err err;
    if (!spawning_list(app->ledger, &spawnings, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    while (i < count && spawnings[i].id != id)
        i++;
    if (i < count)
        app_ask_spawning(app, &spawnings[i]);
    free(spawnings);
}

static void change_round(struct app *app, enum record_kind kind, int64_t id)
{
    app_ask_round(app, id);
}

static void change_fates(struct app *app, enum record_kind kind, int64_t id)
{
    app_ask_fates(app, id);
}

static void bring_back(struct app *app, enum record_kind kind, int64_t id)
{
    app_bring_back(app, kind, id);
}

enum { TASKS_MOST = 5 };

static const struct task {
    const char *words;
    void (*open)(struct app *app, enum record_kind kind, int64_t id);
} tasks[RECORD_KIND_COUNT][TASKS_MOST] = {
    [RECORD_JUDGE] = {{"change the name", app_ask_name},
                      {"it should have been another judge's name", app_ask_whose_name},
                      {"retire the name: it is not offered any more", app_ask_retire}},
    [RECORD_VARIETY] = {{"change the name, the Japanese name, other spellings",
                         app_ask_variety_change},
                        {"retire the variety: it is not offered any more", app_ask_retire}},
    [RECORD_PARENT] = {{"change the code", app_ask_name}, {"retire the parent", app_ask_retire}},
    [RECORD_SPAWNING] = {{"change code, date, parents, eggs", change_spawning},
                         {"retire the spawning, with its lots and rounds", app_ask_retire}},
    [RECORD_LOT] = {{"change the name", app_ask_name},
                    {"retire the lot, with its rounds; fish put into it are where they were",
                     app_ask_retire}},
    [RECORD_ROUND] = {{"change cull, lot, manner, standard, places", change_round},
                      {"change the numbers that were stated, and the day", app_ask_round_numbers},
                      {"change where the rejects went", change_fates},
                      {"retire the round, with its bowls", app_ask_retire}},
    [RECORD_BOWL] = {{"change number, fish in it, day", app_ask_bowl_change},
                     {"move fish into another bowl", app_ask_fish_move},
                     {"merge it into another bowl", app_ask_bowl_merge},
                     {"retire the bowl, with its fish", app_ask_retire}},
};

static const struct task for_retired[TASKS_MOST] = {{"bring it back", bring_back}};

/* The screen. */

struct record_screen {
    struct list list;
    enum record_kind kind;
    int64_t id;
    struct record_title title;
    struct lot_event *events; /* of a lot, those that stand, the last one first */
    size_t event_count;
    struct record_change *changes;
    size_t change_count;
    int64_t asked; /* the event that another undo takes back, 0 = none */
};

static const struct task *tasks_of(const struct record_screen *screen)
{
    return screen->title.retired ? for_retired : tasks[screen->kind];
}

static int task_count(const struct record_screen *screen)
{
    int count = 0;
    while (count < TASKS_MOST && tasks_of(screen)[count].words != NULL)
        count++;
    return count;
}

/* The selected event, or NULL. */
static const struct lot_event *selected_event(const struct record_screen *screen)
{
    int index = screen->list.current - task_count(screen);
    return index >= 0 && (size_t)index < screen->event_count ? &screen->events[index] : NULL;
}

static void forget(struct record_screen *screen)
{
    free(screen->events);
    free(screen->changes);
}

static bool read_events(struct app *app, struct record_screen *screen, struct err *err)
{
    struct lot_event *events;
    size_t count;
    if (screen->kind != RECORD_LOT || screen->title.retired)
        return true;
    if (!lot_events_of_lot(app->ledger, screen->id, false, &events, &count, err))
        return false;
    for (size_t i = 0; i < count / 2; i++) {
        struct lot_event event = events[i];
        events[i] = events[count - 1 - i];
        events[count - 1 - i] = event;
    }
    screen->events = events;
    screen->event_count = count;
    return true;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct record_screen *screen = state;
    struct record_screen filled = {
        .list = screen->list, .kind = screen->kind, .id = screen->id, .asked = screen->asked};
    if (!record_title(app->ledger, filled.kind, filled.id, &filled.title, err) ||
        !record_history(app->ledger, filled.kind, filled.id, &filled.changes, &filled.change_count,
                        err))
        return false;
    if (!read_events(app, &filled, err)) {
        forget(&filled);
        return false;
    }
    list_count(&filled.list,
               task_count(&filled) + (int)filled.event_count + (int)filled.change_count);
    if (screen->title.title[0] != '\0' && !screen->title.retired && filled.title.retired)
        list_to(&filled.list, task_count(&filled)); /* one Enter too many brings nothing back */
    forget(screen);
    *screen = filled;
    return true;
}

/* Drawing. */

/* "2026-08-12 21:40 Ines  number: 3 → 4 (misread)". */
static void change_text(const struct record_change *change, int offset_minutes, struct text *out)
{
    char day[DATE_SIZE], time[TIME_OF_DAY_SIZE];
    date_of_instant(change->at_ms, offset_minutes, day);
    time_of_instant(change->at_ms, offset_minutes, time);
    text_addf(out, "%s %s %s  ", day, time, change->judge);
    if (strcmp(change->field, "retired") == 0)
        text_add(out, change->becomes[0] != '\0' ? "retired" : "brought back");
    else if (strcmp(change->field, "same_as") == 0)
        text_addf(out, "should have been %s", change->becomes);
    else if (change->was[0] == '\0')
        text_addf(out, "%s: %s", change->field, change->becomes);
    else
        text_addf(out, "%s: %s → %s", change->field, change->was,
                  change->becomes[0] != '\0' ? change->becomes : "not known");
    if (change->why[0] != '\0')
        text_addf(out, " (%s)", change->why);
}

/* What draws needs of the app as well. */
struct model {
    const struct record_screen *screen;
    int offset_minutes;
};

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int item,
                      bool selected)
{
    const struct record_screen *screen = ((const struct model *)model)->screen;
    int event = item - task_count(screen), change = event - (int)screen->event_count;
    struct text text;
    text_init(&text);
    if (event == 0 || change == 0)
        rows_next(rows);
    if (event == 0 && change < 0)
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_TITLE, "What happened to it");
    if (change == 0)
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_TITLE, "What was changed of it");
    if (change >= 0)
        change_text(&screen->changes[change], ((const struct model *)model)->offset_minutes, &text);
    else if (event >= 0)
        lot_event_text(&screen->events[event], screen->id, &text);
    else
        text_add(&text, tasks_of(screen)[item].words);
    int row = rows_begin(rows, grid, selected);
    grid_put(grid, row, TEXT_COLUMN, -1, change >= 0 ? STYLE_QUIET : STYLE_PLAIN, text.data);
    text_done(&text);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct record_screen *screen = state;
    const struct model model = {screen, ledger_clock(app->ledger)->offset_minutes};
    struct body body =
        app_frame(app, grid, screen->title.title, screen->title.retired ? "retired" : "put right");
    list_draw(&screen->list, grid, body, draw_line, &model);
    if (screen->change_count == 0 && body.rows > screen->list.count + 3)
        grid_put(grid, body.top + body.rows - 1, TEXT_COLUMN, -1, STYLE_QUIET,
                 "Nothing was changed of it so far.");
}

/* Keys. */

static void do_task(struct app *app, struct record_screen *screen, int task)
{
    tasks_of(screen)[task].open(app, screen->kind, screen->id);
    app->stale = true;
}

static void choose(struct app *app, void *state, int number)
{
    struct record_screen *screen = state;
    const struct lot_event *event = selected_event(screen);
    if (event != NULL)
        app_ask_lot_event(app, screen->id, event);
    else if (screen->list.current < task_count(screen))
        do_task(app, screen, screen->list.current);
    else
        app_say(app, "This is history: it stays as it is.");
}

/* The first task puts right, the last one retires. */
static void change_it(struct app *app, void *state, int number)
{
    do_task(app, state, 0);
}

static void retire_it(struct app *app, void *state, int number)
{
    struct record_screen *screen = state;
    if (screen->title.retired)
        app_say(app, "This is retired already; + brings it back.");
    else
        app_ask_retire(app, screen->kind, screen->id);
}

static void bring_it_back(struct app *app, void *state, int number)
{
    struct record_screen *screen = state;
    if (screen->title.retired)
        do_task(app, screen, 0);
    else
        app_say(app, "This is not retired.");
}

/* Nothing gives back what was taken back, so it is asked first. */
static void undo_event(struct app *app, void *state, int number)
{
    struct record_screen *screen = state;
    const struct lot_event *event = selected_event(screen);
    struct err err;
    if (event == NULL) {
        app_say(app, "Select an event of a lot first.");
    } else if (screen->asked != event->id) {
        screen->asked = event->id;
        app_say(app, "/ again undoes this event, and what was recorded together with it.");
    } else if (lot_event_take_back(app->ledger, event->id, app->judge, &err)) {
        app_say(app, "The event is undone.");
        app->stale = true;
    } else {
        app_fail(app, &err);
    }
}

static const struct key_row rows[] = {
    {"Enter", "do it", "do what the line says; put the selected event right", .handler = choose},
    {"* c", "change", "put it right", .handler = change_it},
    {"- r", "retire", "take it out of every screen and number; its history stays",
     .handler = retire_it},
    {"+ b", "bring back", "bring it back", .handler = bring_it_back},
    {"/ u", NULL, "undo the selected event of a lot (press twice)", .handler = undo_event},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table record_keys = KEY_TABLE("A record, put right", rows);

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind record_screen_kind = {
    .keys = &record_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_record(struct app *app, enum record_kind kind, int64_t id)
{
    struct record_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->kind = kind;
    screen->id = id;
    app_push(app, &record_screen_kind, screen);
}
