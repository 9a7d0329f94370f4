/* A season from its eggs to the fish kept, filled from its book. */
#include "senbetsu/print/rates.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/season.h"
#include "senbetsu/report/season.h"
#include "senbetsu/screens/rates_view.h"
#include "senbetsu/screens/screens.h"

#include <stdio.h>
#include <stdlib.h>

struct rates_screen {
    int season;
    struct rates_view view;
    struct season_book_made made; /* the items' texts are its own */
    struct rates_item *items;
    struct rates_step *steps; /* of all items */
};

static void forget(struct rates_screen *screen)
{
    if (screen->items == NULL)
        return;
    season_book_done(&screen->made);
    free(screen->items);
    free(screen->steps);
}

static int of_whole_bar(double share)
{
    return share >= 1 ? WHOLE_BAR : (int)(share * WHOLE_BAR + 0.5);
}

static struct rates_step hatched(int64_t eggs, int64_t fry)
{
    struct rates_step step = {.in = eggs, .kept = fry, .low = NOT_KNOWN};
    text_copy(step.name, sizeof step.name, "eggs, hatched");
    if (eggs > 0 && fry != NOT_KNOWN) {
        double share = (double)fry / (double)eggs;
        rate_percent(share, step.alive);
        step.low = step.high = of_whole_bar(share);
        if (fry > eggs)
            text_copy(step.warnings[step.warning_count++], sizeof step.warnings[0],
                      hatched_too_many);
    }
    return step;
}

static void take_rate(struct rates_step *step, const struct rate_row *row)
{
    double low = row->has_interval ? row->interval.low : row->rate;
    double high = row->has_interval ? row->interval.high : row->rate;
    rate_percent(row->rate, step->rate);
    rate_interval_text(row, step->interval);
    step->low = of_whole_bar(low);
    step->high = of_whole_bar(high);
}

static struct rates_step step_of(const struct rate_row *row)
{
    char warnings[RATE_WARNINGS_MOST][RATE_WARNING_SIZE];
    struct rates_step step = {.in = row->cull.in, .kept = row->cull.kept, .low = NOT_KNOWN};
    rate_stages(row, step.name);
    if (row->survival >= 0 && row->first == row->last)
        rate_percent(row->survival, step.alive);
    if (row->has_rate)
        take_rate(&step, row);
    step.warning_count = rate_warnings(row, warnings);
    for (int i = 0; i < step.warning_count; i++)
        text_copy(step.warnings[i], sizeof step.warnings[i], warnings[i]);
    return step;
}

static void add_rows(struct rates_item *item, struct rates_step *steps, const struct rate_row *rows,
                     size_t count)
{
    for (size_t i = 0; i < count; i++)
        steps[item->step_count++] = step_of(&rows[i]);
}

static struct rates_item item_of(const struct book_entry *entry, struct rates_step *steps)
{
    struct rates_item item = {
        .title = entry->title, .lot_origin = entry->lot_origin, .steps = steps};
    if (entry->eggs != NOT_COUNTED || entry->hatched != NOT_COUNTED)
        steps[item.step_count++] = hatched(entry->eggs, entry->hatched);
    add_rows(&item, steps, entry->rows, entry->row_count);
    return item;
}

static struct rates_item season_item(struct rates_screen *screen, struct rates_step *steps)
{
    const struct season_book *book = &screen->made.book;
    struct rates_item item = {
        .title = "All together", .lot_origin = "mixed lots included", .steps = steps};
    add_rows(&item, steps, book->season_rows, book->season_row_count);
    return item;
}

static void fill_items(struct rates_screen *screen)
{
    const struct season_book *book = &screen->made.book;
    size_t steps = book->entry_count + book->season_row_count, used = 0;
    for (size_t i = 0; i < book->entry_count; i++)
        steps += book->entries[i].row_count;
    screen->items = alloc_zeroed(book->entry_count + 1, sizeof *screen->items);
    screen->steps = alloc_zeroed(steps, sizeof *screen->steps);
    for (size_t i = 0; i < book->entry_count; i++) {
        screen->items[i] = item_of(&book->entries[i], screen->steps + used);
        used += screen->items[i].step_count;
    }
    screen->items[book->entry_count] = season_item(screen, screen->steps + used);
    screen->view.items = screen->items;
    screen->view.item_count = book->entry_count + 1;
}

/* Spawnings of the same season stand together. */
static void fill_seasons(struct rates_screen *screen)
{
    const struct season_book_made *made = &screen->made;
    struct rates_view *view = &screen->view;
    view->season = screen->season;
    view->before = view->after = 0;
    for (size_t i = 0; i < made->spawning_count; i++) {
        int season = made->spawnings[i].season;
        if (season > screen->season)
            view->after = season;
        else if (season < screen->season && view->before == 0)
            view->before = season;
    }
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct rates_screen *screen = state;
    struct season_book_made made;
    if (!season_book_make(app->ledger, screen->season, &made, err))
        return false;
    forget(screen);
    screen->made = made;
    fill_items(screen);
    fill_seasons(screen);
    rates_ready(&screen->view);
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct rates_screen *screen = state;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    rates_draw(grid, &screen->view);
}

/* The mixed lots stand after the spawnings, in the order in which the book took them; 0 = that is
 * none. */
static int64_t mixed_lot(const struct rates_screen *screen, size_t index)
{
    const struct rates *by_lot = &screen->made.by_lot;
    for (size_t i = 0; i < by_lot->lot_count; i++)
        if (by_lot->lots[i].mixed && by_lot->lots[i].season == screen->season && index-- == 0)
            return by_lot->lots[i].lot_id;
    return 0;
}

static void choose_lot(struct app *app, const struct rates_screen *screen, size_t index)
{
    int64_t lot_id = mixed_lot(screen, index);
    if (lot_id != 0)
        app_open_lot(app, lot_id);
    else
        app_say(app, "This is no spawning; go to one first.");
}

static void choose(struct app *app, const struct rates_screen *screen)
{
    size_t front = (size_t)screen->view.list.current;
    size_t first = 0;
    if (front >= screen->made.book.spawning_count) {
        choose_lot(app, screen, front - screen->made.book.spawning_count);
        return;
    }
    while (screen->made.spawnings[first].season != screen->season)
        first++;
    app_open_spawning(app, screen->made.spawnings[first + front].code);
}

static void go_to_season(struct app *app, struct rates_screen *screen, int season)
{
    if (season == 0) {
        app_say(app, "There is no spawning of another season on that side.");
        return;
    }
    screen->season = season;
    list_to(&screen->view.list, 0);
    app->stale = true;
}

static bool make_book(struct app *app, int64_t season, struct page_setup setup, struct text *out,
                      struct err *err)
{
    struct season_book_made made;
    if (!season_book_make(app->ledger, (int)season, &made, err))
        return false;
    season_book_print(&made.book, setup, out);
    season_book_done(&made);
    return true;
}

static void open_book(struct app *app, int season)
{
    static const struct pages_kind kind = {.title = "The season book",
                                           .save = "Save the season book",
                                           .file = "season-book",
                                           .make = make_book};
    app_open_pages(app, &kind, season);
}

static void press(struct app *app, void *state, struct key key)
{
    struct rates_screen *screen = state;
    int action = list_key(&screen->view.list, CONTEXT_RATES, key);
    switch (action) {
    case LIST_CHOOSE:
        choose(app, screen);
        break;
    case RATES_BEFORE:
        go_to_season(app, screen, screen->view.before);
        break;
    case RATES_AFTER:
        go_to_season(app, screen, screen->view.after);
        break;
    case RATES_BOOK:
        open_book(app, screen->season);
        break;
    case RATES_PAIRS:
        app_open_pairs(app);
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void done(void *state)
{
    struct rates_screen *screen = state;
    forget(screen);
    free(screen);
}

static const struct screen_kind rates_kind = {.refresh = refresh,
                                              .draw = draw,
                                              .key = press,
                                              .done = done,
                                              .all_bound = true,
                                              .context = CONTEXT_RATES};

void app_open_rates(struct app *app, int season)
{
    struct rates_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->season = season;
    app_push(app, &rates_kind, screen);
}
