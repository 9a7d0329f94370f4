/* The judges, and all that is retired: what no other screen leads to. */
#include "corrections.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/ui/list.h"

#include <stdlib.h>

struct records_screen {
    struct list list;
    struct judge *judges;
    size_t judge_count;
    struct retired_record *retired;
    size_t retired_count;
    int offset_minutes;
};

/* The selected retired record, or NULL. */
static const struct retired_record *selected(const struct records_screen *screen)
{
    size_t index = (size_t)screen->list.current - screen->judge_count;
    return (size_t)screen->list.current >= screen->judge_count && index < screen->retired_count
               ? &screen->retired[index]
               : NULL;
}

static void forget(struct records_screen *screen)
{
    free(screen->judges);
    free(screen->retired);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct records_screen *screen = state;
    struct records_screen filled = {.list = screen->list,
                                    .offset_minutes = ledger_clock(app->ledger)->offset_minutes};
    if (!judge_list(app->ledger, &filled.judges, &filled.judge_count, err) ||
        !retired_list(app->ledger, &filled.retired, &filled.retired_count, err)) {
        forget(&filled);
        return false;
    }
    list_count(&filled.list, (int)(filled.judge_count + filled.retired_count));
    forget(screen);
    *screen = filled;
    return true;
}

static void draw_retired(struct grid *grid, struct rows *rows, const struct records_screen *screen,
                         const struct retired_record *record, bool is_selected)
{
    char day[DATE_SIZE];
    date_of_instant(record->at_ms, screen->offset_minutes, day);
    int row = rows_begin(rows, grid, is_selected);
    grid_put(grid, row, TEXT_COLUMN, -1, STYLE_STRONG, record->title);
    grid_putf(grid, rows_next(rows), TEXT_COLUMN + 2, -1, STYLE_QUIET, "since %s%s%s%s%s", day,
              record->judge[0] != '\0' ? ", by " : "", record->judge,
              record->why[0] != '\0' ? ": " : "", record->why);
}

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int item,
                      bool is_selected)
{
    const struct records_screen *screen = model;
    size_t index = (size_t)item;
    if (index == 0 && screen->judge_count > 0)
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_TITLE, "Judges");
    if (index < screen->judge_count) {
        grid_put(grid, rows_begin(rows, grid, is_selected), TEXT_COLUMN, -1, STYLE_PLAIN,
                 screen->judges[index].name);
        return;
    }
    if (index == screen->judge_count) {
        if (index > 0)
            rows_next(rows);
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_TITLE, "Retired");
    }
    draw_retired(grid, rows, screen, &screen->retired[index - screen->judge_count], is_selected);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct records_screen *screen = state;
    struct body body = app_frame(app, grid, "judges, and what is retired", app->judge_name);
    list_draw(&screen->list, grid, body, draw_line, screen);
    if (screen->retired_count == 0)
        grid_put(grid, body.top + body.rows - 1, TEXT_COLUMN, -1, STYLE_QUIET,
                 "Nothing is retired.");
}

/* Keys. */

static void choose(struct app *app, void *state, int number)
{
    const struct records_screen *screen = state;
    const struct retired_record *record = selected(screen);
    if (record != NULL)
        app_open_record(app, record->kind, record->id);
    else if (screen->list.count > 0)
        app_open_record(app, RECORD_JUDGE, screen->judges[screen->list.current].id);
}

static void bring_back(struct app *app, void *state, int number)
{
    const struct retired_record *record = selected(state);
    if (record == NULL)
        app_say(app, "Select what is to be brought back first.");
    else
        app_bring_back(app, record->kind, record->id);
}

static const struct key_row rows[] = {
    {"Enter", "open", "its history, and what can be put right of it", .handler = choose},
    {"+ b", "bring back", "bring the selected record back, with all that went with it",
     .handler = bring_back},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table records_keys = KEY_TABLE("Judges, and what is retired", rows);

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind records_kind = {
    .keys = &records_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_records(struct app *app)
{
    app_push(app, &records_kind, alloc_zeroed(1, sizeof(struct records_screen)));
}
