/* A season from its eggs to the fish kept: its spawnings, the lots mixed from them, and all
 * together, each with its culls and how sure their rates are. All of it is the season's book
 * (report/season.h); the same book is read, saved and printed from here. Rates and intervals are
 * the report's and are only worded here, by one table of columns. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/season.h"
#include "senbetsu/report/season.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/chart.h"
#include "senbetsu/ui/list.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

struct rates_screen {
    struct list list; /* the book's entries, then the season as a whole */
    int season;
    int before, after; /* the nearest seasons that have spawnings, 0 = none */
    struct season_book made;
    bool read; /* `made` is */
};

/* Filling. */

static void forget(struct rates_screen *screen)
{
    if (screen->read)
        season_book_done(&screen->made);
    screen->read = false;
}

/* The spawnings are in order of season, the latest first. */
static void find_seasons(struct rates_screen *screen)
{
    const struct season_book *made = &screen->made;
    screen->before = screen->after = 0;
    for (size_t i = 0; i < made->spawning_count; i++) {
        int season = made->spawnings[i].season;
        if (season > screen->season)
            screen->after = season;
        else if (season < screen->season && screen->before == 0)
            screen->before = season;
    }
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct rates_screen *screen = state;
    struct season_book made;
    if (!season_book_make(app->ledger, screen->season, NULL, &made, err))
        return false;
    forget(screen);
    screen->made = made;
    screen->read = true;
    find_seasons(screen);
    list_count(&screen->list, (int)made.entry_count + 1);
    return true;
}

/* Drawing. */

/* A line under an entry: a cull, or (without a row) the eggs and the fry that hatched. */
struct step {
    const struct rate_row *row;
    int64_t in, kept; /* NOT_COUNTED */
};

static double share_hatched(const struct step *step)
{
    return step->in > 0 && step->kept != NOT_COUNTED ? (double)step->kept / (double)step->in
                                                     : NO_SHARE;
}

static void name_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct step *step = item;
    if (step->row != NULL)
        rate_stages(step->row, ret_text);
    else
        text_copy(ret_text, COLUMN_TEXT_SIZE, "eggs, hatched");
}

static void alive_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct step *step = item;
    const struct rate_row *row = step->row;
    double alive = row == NULL               ? share_hatched(step)
                   : row->first == row->last ? row->survival
                                             : NO_SHARE;
    if (alive >= 0)
        rate_percent(alive, ret_text);
}

static void number_text(int64_t number, char ret_text[COLUMN_TEXT_SIZE])
{
    if (number != NOT_COUNTED)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%" PRId64, number);
}

static void in_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    number_text(((const struct step *)item)->in, ret_text);
}

static void kept_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    number_text(((const struct step *)item)->kept, ret_text);
}

static void rate_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct rate_row *row = ((const struct step *)item)->row;
    if (row != NULL && row->has_rate)
        rate_percent(row->rate, ret_text);
}

static void interval_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct rate_row *row = ((const struct step *)item)->row;
    if (row != NULL && row->has_rate)
        rate_interval_text(row, ret_text);
}

enum { NAME, ALIVE, IN, KEPT, RATE, INTERVAL, BAR, COLUMN_COUNT };

static const struct list_column columns[COLUMN_COUNT] = {
    [NAME] = {.width = 15, .text = name_text},
    [ALIVE] = {.heading = "alive %", .width = 6, .right = true, .text = alive_text},
    [IN] = {.heading = "in", .width = 8, .right = true, .text = in_text},
    [KEPT] = {.heading = "kept", .width = 8, .right = true, .text = kept_text},
    [RATE] =
        {.heading = "keep %", .width = 7, .right = true, .style = STYLE_STRONG, .text = rate_text},
    [INTERVAL] = {.heading = "95 % interval", .width = 17, .right = true, .text = interval_text},
    [BAR] = {.heading = "0", .gap = 2},
};

static void draw_bar(struct grid *grid, struct area area, const struct step *step)
{
    const struct rate_row *row = step->row;
    double hatched = share_hatched(step);
    if (row == NULL && hatched >= 0)
        bar_draw(grid, area, hatched, hatched);
    else if (row != NULL && row->has_interval)
        bar_draw(grid, area, row->interval.low, row->interval.high);
    else if (row != NULL && row->has_rate)
        bar_draw(grid, area, row->rate, row->rate);
}

static void draw_warning(struct grid *grid, int row, const char *warning)
{
    char text[LABEL_TEXT_SIZE];
    int column = TEXT_COLUMN + 2;
    grid_put(grid, row, TEXT_COLUMN, 1, STYLE_ALERT, "!");
    grid_put(grid, row, column, -1, STYLE_STRONG, label_fit(warning, grid->columns - column, text));
}

static void draw_step(struct grid *grid, struct rows *rows, const struct step *step)
{
    int row = rows_next(rows);
    columns_draw(grid, row, columns, COLUMN_COUNT, step, STYLE_PLAIN);
    draw_bar(grid, column_area(grid, row, columns, BAR), step);
}

static void draw_hatched(struct grid *grid, struct rows *rows, const struct book_entry *entry)
{
    const struct step step = {.in = entry->eggs, .kept = entry->hatched};
    draw_step(grid, rows, &step);
    if (share_hatched(&step) > 1)
        draw_warning(grid, rows_next(rows), hatched_too_many);
}

static void draw_cull(struct grid *grid, struct rows *rows, const struct rate_row *row)
{
    char warnings[RATE_WARNINGS_MOST][RATE_WARNING_SIZE];
    draw_step(grid, rows, &(struct step){.row = row, .in = row->cull.in, .kept = row->cull.kept});
    int count = rate_warnings(row, warnings);
    for (int i = 0; i < count; i++)
        draw_warning(grid, rows_next(rows), warnings[i]);
}

static void draw_entry(struct grid *grid, struct rows *rows, const void *model, int index,
                       bool selected)
{
    const struct season_book *book = &((const struct rates_screen *)model)->made;
    static char all[] = "All together", mixed[] = "mixed lots included";
    const struct book_entry season = {.title = all,
                                      .lot_origin = mixed,
                                      .eggs = NOT_COUNTED,
                                      .hatched = NOT_COUNTED,
                                      .rows = book->season_rows,
                                      .row_count = book->season_row_count};
    const struct book_entry *entry =
        (size_t)index < book->entry_count ? &book->entries[index] : &season;
    bool hatched = entry->eggs != NOT_COUNTED || entry->hatched != NOT_COUNTED;
    if (index > 0)
        rows_next(rows);
    int row = rows_begin(rows, grid, selected);
    int used = grid_put(grid, row, TEXT_COLUMN, -1, STYLE_STRONG, entry->title);
    grid_put(grid, row, TEXT_COLUMN + used + 2, -1, STYLE_QUIET, entry->lot_origin);
    if (hatched)
        draw_hatched(grid, rows, entry);
    for (size_t i = 0; i < entry->row_count; i++)
        draw_cull(grid, rows, &entry->rows[i]);
    if (!hatched && entry->row_count == 0)
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_QUIET, "no round yet");
}

/* The other seasons stand at the side of their key. */
static void draw(struct app *app, void *state, struct grid *grid)
{
    struct rates_screen *screen = state;
    char title[64], before[16] = "", after[16] = "", beside[64];
    if (screen->before != 0)
        snprintf(before, sizeof before, "◂ %d", screen->before);
    if (screen->after != 0)
        snprintf(after, sizeof after, "%d ▸", screen->after);
    snprintf(title, sizeof title, "Season %d: from the eggs to the fish kept", screen->season);
    snprintf(beside, sizeof beside, "%s%s%s", before,
             before[0] != '\0' && after[0] != '\0' ? "   " : "", after);
    struct body body = app_frame(app, grid, title, beside);
    columns_heading(grid, body.top, columns, COLUMN_COUNT);
    grid_put_right(grid, body.top++, grid->columns, -1, STYLE_QUIET, "100 %");
    body.rows--;
    list_draw(&screen->list, grid, body, draw_entry, screen);
}

/* Keys. */

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
        app_say(app, "Select a spawning first.");
}

static void choose(struct app *app, void *state, int number)
{
    const struct rates_screen *screen = state;
    size_t line = (size_t)screen->list.current;
    size_t first = 0;
    if (line >= screen->made.spawning_entries) {
        choose_lot(app, screen, line - screen->made.spawning_entries);
        return;
    }
    while (screen->made.spawnings[first].season != screen->season)
        first++;
    app_open_spawning(app, screen->made.spawnings[first + line].code);
}

/* To the season before (-1) or after (1). */
static void go_to_season(struct app *app, void *state, int by)
{
    struct rates_screen *screen = state;
    int season = by < 0 ? screen->before : screen->after;
    if (season == 0) {
        app_say(app, "There is no further season in that direction.");
        return;
    }
    screen->season = season;
    list_to(&screen->list, 0);
    app->stale = true;
}

static bool make_book(struct app *app, int64_t season, struct page_setup setup, struct text *out,
                      struct err *err)
{
    struct season_book made;
    if (!season_book_make(app->ledger, (int)season, NULL, &made, err))
        return false;
    season_book_print(&made, setup, out);
    season_book_done(&made);
    return true;
}

static void open_book(struct app *app, void *state, int number)
{
    static const struct pages_kind kind = {.title = "The season book",
                                           .save = "Save the season book",
                                           .file = "season-book",
                                           .make = make_book};
    app_open_pages(app, &kind, ((const struct rates_screen *)state)->season);
}

static void open_pairs(struct app *app, void *state, int number)
{
    app_open_pairs(app);
}

static const struct key_row rows[] = {
    {"Enter", "open", "open the selected spawning", .handler = choose},
    {"Left 4 h", "season before", "the previous season", .handler = go_to_season, .number = -1},
    {"Right 6 l", "after", "the next season", .handler = go_to_season, .number = 1},
    {"5 p", "book", "the season book, to read, save or print", .handler = open_book},
    {"+ x", "pairs", "pairs over the seasons, and untried crosses", .handler = open_pairs},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to the spawnings"),
};

const struct key_table rates_keys = KEY_TABLE("A season's rates", rows);

static void done(void *state)
{
    struct rates_screen *screen = state;
    forget(screen);
    free(screen);
}

static const struct screen_kind rates_kind = {
    .keys = &rates_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_rates(struct app *app, int season)
{
    struct rates_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->season = season;
    app_push(app, &rates_kind, screen);
}
