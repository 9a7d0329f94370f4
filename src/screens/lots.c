/* The lots of a spawning, those mixed from its fish among them: how many fish each has, where it is
 * and what happened to it last. From here fish are recorded dead, moved, split and put together
 * (lot_forms.c), and all that happened to a lot is read. */
#include "lots.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { EVENTS_SHOWN = 2, NUMBER_COLUMNS = 26, INDENT = 2 };

/* A lot in words. */

static void keep(struct text *text, char ret_text[LOT_TEXT_SIZE])
{
    text_copy(ret_text, LOT_TEXT_SIZE, text->data);
    text_done(text);
}

void lot_title(const struct lot_origin *lot, char ret_title[LOT_TEXT_SIZE])
{
    struct text text;
    text_init(&text);
    lot_title_add(lot->mixed ? "" : lot->spawnings, lot->lot, &text);
    keep(&text, ret_title);
}

void lot_number(const struct book_count *book, char ret_number[LOT_TEXT_SIZE])
{
    char number[COUNT_TEXT_SIZE];
    if (book->overdrawn > 0)
        snprintf(ret_number, LOT_TEXT_SIZE, "! 0: %" PRId64 " too many taken", book->overdrawn);
    else if (book->base == BOOK_NOTHING)
        text_copy(ret_number, LOT_TEXT_SIZE, "no fish yet");
    else if (book->now.number == NOT_COUNTED)
        text_copy(ret_number, LOT_TEXT_SIZE, "not known");
    else
        snprintf(ret_number, LOT_TEXT_SIZE, "%s%s%s", count_text(&book->now, number),
                 book->now.method != METHOD_UNSAID ? " " : "", method_terms[book->now.method].word);
}

static bool touches(const struct lot_event *event, int64_t lot_id)
{
    return !event->undone && (event->lot_id == lot_id || event->target_id == lot_id);
}

static bool came_in(const struct lot_event *event, int64_t lot_id)
{
    return !event->undone && event->target_id == lot_id;
}

/* Did fish of the same lot come in before? */
static bool is_known(const struct lot_event *events, size_t at, int64_t lot_id)
{
    for (size_t i = 0; i < at; i++)
        if (came_in(&events[i], lot_id) && events[i].lot_id == events[at].lot_id)
            return true;
    return false;
}

/* The codes of the lots whose fish came into this one, each once. */
static void add_sources(const struct lot_event *events, size_t count, int64_t lot_id,
                        struct text *out)
{
    for (size_t i = 0; i < count; i++)
        if (came_in(&events[i], lot_id) && !is_known(events, i, lot_id))
            text_addf(out, "%s%s", out->length > 0 ? ", " : "", events[i].lot);
}

static void add_origin(const struct lot_origin *lot, const struct lot_event *events, size_t count,
                       struct text *out)
{
    struct text sources;
    text_init(&sources);
    add_sources(events, count, lot->lot_id, &sources);
    if (lot->mixed)
        text_addf(out, "mixed from %s", lot->spawnings);
    else if (lot->own)
        text_addf(out, "the spawning's own%s%s", sources.length > 0 ? ", with fish of " : "",
                  sources.data);
    else
        text_addf(out, "out of %s", sources.length > 0 ? sources.data : lot->spawnings);
    text_done(&sources);
}

static void add_base(const struct book_count *book, struct text *out)
{
    static const char *const words[] = {
        [BOOK_NOTHING] = "",
        [BOOK_UNKNOWN] = "",
        [BOOK_FRY] = "; number as hatched",
        [BOOK_MOVED] = "; number as put in",
        [BOOK_CULL] = "; number as culled",
        [BOOK_COUNT] = "; number as counted since",
    };
    if (book->after != STAGE_COUNT)
        text_addf(out, "; after the %s cull", stage_terms[book->after].word);
    text_add(out, words[book->base]);
}

static void add_loss(const char *word, int64_t fish, struct text *out)
{
    if (fish > 0)
        text_addf(out, "; %s %" PRId64, word, fish);
}

void lot_about(const struct lot_line *line, const struct lot_event *events, size_t count,
               char ret_about[LOT_TEXT_SIZE])
{
    struct text text;
    text_init(&text);
    add_origin(&line->of, events, count, &text);
    add_base(&line->book, &text);
    add_loss("dead", line->book.dead, &text);
    add_loss("lost", line->book.lost, &text);
    add_loss("found", line->book.found, &text);
    keep(&text, ret_about);
}

void lot_event_text(const struct lot_event *event, int64_t lot_id, struct text *out)
{
    struct lot_news news = lot_news_of(event, NULL);
    text_addf(out, "%s ", event->day);
    if (event->target_id == lot_id) {
        if (event->fish.number != NOT_COUNTED)
            count_text_add(&event->fish, out);
        else
            text_add(out, "fish");
        text_addf(out, " from %s%s", event->lot, event->all ? ": all fish" : "");
    } else {
        lot_news_add(&news, out);
    }
    if (event->note[0] != '\0')
        text_addf(out, " (%s)", event->note);
}

/* The screen. */

struct lots_screen {
    struct list list;
    char spawning[CODE_SIZE];
    struct lot_line *lines; /* of all lots */
    size_t line_count;
    const struct lot_line **shown; /* those of the spawning */
    struct lot_event *events;      /* of all lots */
    size_t event_count;
    int64_t asked;   /* the event that another undo takes back, 0 = none */
    int64_t undoing; /* the one that it takes back, if that is this key */
};

static void forget(struct lots_screen *screen)
{
    lot_lines_free(screen->lines, screen->line_count);
    free(screen->events);
    free(screen->shown);
}

/* NULL before the screen was filled. */
static const struct lot_line *selected(const struct lots_screen *screen)
{
    return screen->list.count > 0 ? screen->shown[screen->list.current] : NULL;
}

/* The spawning's own first, then those mixed from its fish and others'. The cursor stays on its
 * lot. */
static void show(struct lots_screen *screen, int64_t lot_id)
{
    int count = 0, line = screen->list.current;
    screen->shown = alloc_zeroed(screen->line_count + 1, sizeof(const struct lot_line *));
    for (int mixed = 0; mixed <= 1; mixed++)
        for (size_t i = 0; i < screen->line_count; i++) {
            const struct lot_origin *lot = &screen->lines[i].of;
            if (lot->mixed != (mixed == 1) || !code_in_list(lot->spawnings, screen->spawning))
                continue;
            if (lot->lot_id == lot_id)
                line = count;
            screen->shown[count++] = &screen->lines[i];
        }
    list_count(&screen->list, count);
    list_to(&screen->list, line);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct lots_screen *screen = state;
    struct lot_line *lines;
    struct lot_event *events;
    size_t line_count, event_count;
    int64_t lot_id = selected(screen) != NULL ? selected(screen)->of.lot_id : 0;
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
    show(screen, lot_id);
    return true;
}

/* The latest events of a lot, the last one first. */
static void draw_events(struct grid *grid, struct rows *rows, const struct lots_screen *screen,
                        int64_t lot_id)
{
    int shown = 0;
    for (size_t i = screen->event_count; i > 0 && shown < EVENTS_SHOWN; i--) {
        struct text text;
        if (!touches(&screen->events[i - 1], lot_id))
            continue;
        text_init(&text);
        lot_event_text(&screen->events[i - 1], lot_id, &text);
        grid_put(grid, rows_next(rows), TEXT_COLUMN + INDENT, -1, STYLE_PLAIN, text.data);
        text_done(&text);
        shown++;
    }
}

/* Where it is stands in the middle, how many there are at the right edge. */
static void draw_lot(struct grid *grid, struct rows *rows, const void *model, int item,
                     bool is_selected)
{
    const struct lots_screen *screen = model;
    const struct lot_line *lot = screen->shown[item];
    char text[LOT_TEXT_SIZE];
    int row = rows_begin(rows, grid, is_selected), middle = grid->columns / 2,
        end = grid->columns - CURSOR_COLUMN;
    lot_title(&lot->of, text);
    grid_put(grid, row, TEXT_COLUMN, middle - TEXT_COLUMN - 1, STYLE_STRONG, text);
    if (lot->pond[0] != '\0')
        grid_putf(grid, row, middle, end - NUMBER_COLUMNS - middle - 1, STYLE_PLAIN, "in %s",
                  lot->pond);
    lot_number(&lot->book, text);
    grid_put_right(grid, row, end, NUMBER_COLUMNS,
                   lot->book.overdrawn > 0 ? STYLE_ALERT : STYLE_STRONG, text);
    lot_about(lot, screen->events, screen->event_count, text);
    grid_put(grid, rows_next(rows), TEXT_COLUMN + INDENT, -1, STYLE_QUIET, text);
    draw_events(grid, rows, screen, lot->of.lot_id);
    rows_next(rows);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct lots_screen *screen = state;
    char title[CODE_SIZE + 32];
    snprintf(title, sizeof title, "%s: lots", screen->spawning);
    struct body body = app_frame(app, grid, title, app->judge_name);
    list_draw(&screen->list, grid, body, draw_lot, screen);
}

/* All that happened to a lot, to read, save or print. */

static void print_history(const char *title, int64_t lot_id, const struct lot_event *events,
                          size_t count, struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "%s", title);
    for (size_t i = 0; i < count; i++) {
        lot_event_text(&events[i], lot_id, &page.line);
        page_line(&page, events[i].undone ? "  undone: " : "  ");
    }
    if (count == 0)
        page_addf(&page, "Nothing has happened to this lot except its culls.");
    page_finish(&page, out);
}

static bool make_history(struct app *app, int64_t lot_id, struct page_setup setup, struct text *out,
                         struct err *err)
{
    char title[LOT_TEXT_SIZE] = "";
    struct lot_origin *lots;
    struct lot_event *events;
    size_t lot_count, count;
    if (!lot_origins_list(app->ledger, &lots, &lot_count, err))
        return false;
    const struct lot_origin *lot = lot_origin_find(lots, lot_count, lot_id);
    if (lot != NULL)
        lot_title(lot, title);
    lot_origins_free(lots, lot_count);
    if (!lot_events_of_lot(app->ledger, lot_id, true, &events, &count, err))
        return false;
    print_history(title, lot_id, events, count, setup, out);
    free(events);
    return true;
}

static void open_history(struct app *app, const struct lot_line *lot)
{
    static const struct pages_kind kind = {.title = "What happened to the lot",
                                           .save = "Save what happened to the lot",
                                           .file = "lot",
                                           .make = make_history};
    app_open_pages(app, &kind, lot->of.lot_id);
}

/* Keys. */

static void tell(struct app *app, const char *what, const struct lot_event *event, int64_t lot_id)
{
    struct text text;
    text_init(&text);
    lot_event_text(event, lot_id, &text);
    app_say(app, "%s: %s.", what, text.data);
    text_done(&text);
}

/* Nothing gives back what was taken back, so it is asked first. */
static void undo(struct app *app, void *state, int number)
{
    struct lots_screen *screen = state;
    const struct lot_line *lot = selected(screen);
    struct lot_event event, taken;
    struct err err;
    bool sure = screen->undoing != 0;
    if (lot == NULL)
        return;
    int64_t lot_id = lot->of.lot_id;
    app->stale = true; /* another session may have recorded something */
    if (!lot_last_event(app->ledger, lot_id, &event, &err) ||
        !lot_event_follow(app->ledger, &event, &err) ||
        (sure && !lot_undo(app->ledger, lot_id, screen->undoing, app->judge, &taken, &err))) {
        app_fail(app, &err);
        return;
    }
    tell(app, sure ? "Undone" : "- again undoes this", &event, lot_id);
    screen->asked = sure ? 0 : event.id;
}

static void open_rounds(struct app *app, const struct lot_line *lot)
{
    app_open_lot(app, lot->of.lot_id);
}

/* What is done with the selected lot. */
enum lot_task { OPEN, MOVE, SPLIT, MERGE, HISTORY };
static void (*const tasks[])(struct app *app, const struct lot_line *lot) = {
    [OPEN] = open_rounds,        [MOVE] = app_ask_lot_pond, [SPLIT] = app_ask_lot_split,
    [MERGE] = app_ask_lot_merge, [HISTORY] = open_history,
};

static void act(struct app *app, void *state, int task)
{
    const struct lot_line *lot = selected(state);
    if (lot != NULL)
        tasks[task](app, lot);
}

static void record_fish(struct app *app, void *state, int kind)
{
    const struct lot_line *lot = selected(state);
    if (lot != NULL)
        app_ask_lot_fish(app, lot, (enum lot_event_kind)kind);
}

static void open_record(struct app *app, void *state, int number)
{
    const struct lot_line *lot = selected(state);
    if (lot != NULL)
        app_open_record(app, RECORD_LOT, lot->of.lot_id);
}

static const struct key_row rows[] = {
    {"Enter", "rounds", "the rounds of the selected lot; begin one", .handler = act,
     .number = OPEN},
    {"+ d", "dead, lost, found, counted",
     "fish found dead; the form also takes lost, found, counted", .handler = record_fish,
     .number = EVENT_DEAD},
    {"l", NULL, "fish are missing", .handler = record_fish, .number = EVENT_LOST},
    {"f", NULL, "fish turned up again", .handler = record_fish, .number = EVENT_FOUND},
    {"c", NULL, "the whole lot was counted", .handler = record_fish, .number = EVENT_COUNT},
    {"5 s", "split", "put some of its fish into a new lot or another one", .handler = act,
     .number = SPLIT},
    {"6 g", "merge", "merge it with another lot", .handler = act, .number = MERGE},
    {"* m", "pond", "move the lot to another pond", .handler = act, .number = MOVE},
    {"- u", "undo", "undo the last event of the lot (press twice)", .handler = undo},
    {"/ h", "history", "everything that happened to the lot, to read, save or print",
     .handler = act, .number = HISTORY},
    RECORD_KEYS("put the lot or its events right, or retire it"),
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to the rounds"),
};

const struct key_table lots_keys = KEY_TABLE("The lots of a spawning", rows);

/* Only a second undo right after the first is meant. */
static void press(struct app *app, void *state, struct key key)
{
    struct lots_screen *screen = state;
    screen->undoing = screen->asked;
    screen->asked = 0;
    app_dispatch(app, state, &lots_keys, key);
}

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind lots_kind = {
    .keys = &lots_keys, .key = press, .refresh = refresh, .draw = draw, .done = done};

void app_open_lots(struct app *app, const char *spawning)
{
    struct lots_screen *screen = alloc_zeroed(1, sizeof *screen);
    text_copy(screen->spawning, sizeof screen->spawning, spawning);
    app_push(app, &lots_kind, screen);
}
