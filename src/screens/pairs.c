/* Pairs over the seasons as a chart, a line each, and crosses that were not tried yet among them:
 * docs/pairs.md. Read from the ledger when the screen opens or the cull changes, for fitting the
 * model takes its time. */
#include "senbetsu/print/pairs.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/chart.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The cull from what went into the first to what the last one kept. */
enum { WHOLE_WAY = -1 };

/* What the lines can be sorted by, then the chart. */
enum { NAME, RESTS, COUNTED, EXPECTED, BEST, INBREEDING, SORTABLE, CHART = SORTABLE, COLUMN_COUNT };

/* A row and what it is sorted by. */
struct sorted_row {
    const struct pair_row *row;
    double value;
};

struct pairs_screen {
    struct list list;
    int stage; /* or WHOLE_WAY */
    int made_stage;
    struct pairs_table *made; /* NULL = not yet */
    bool untried_hidden;
    int sorted;                    /* the column */
    const struct pair_row *asked;  /* by the what-if form; may be NULL */
    const struct pair_row *chosen; /* the one asked for last, once it is selected */
    struct sorted_row *shown;
};

static void forget(struct pairs_screen *screen)
{
    if (screen->made != NULL)
        pairs_done(screen->made);
    free(screen->made);
}

static const struct pair_row *selected(const struct pairs_screen *screen)
{
    return screen->list.count > 0 ? screen->shown[screen->list.current].row : NULL;
}

/* The same pair in another table, or NULL. */
static const struct pair_row *same_pair(const struct pairs_table *table, const struct pair_row *row)
{
    for (size_t i = 0; row != NULL && i < table->count; i++)
        if (strcmp(table->rows[i].dam, row->dam) == 0 &&
            strcmp(table->rows[i].sires, row->sires) == 0)
            return &table->rows[i];
    return NULL;
}

/* What the rows are sorted by, largest first; the same for all: by name. */
static double sort_value(const struct pair_row *row, int column)
{
    switch (column) {
    case RESTS:
        return row->spawnings;
    case COUNTED:
        return row->has_rate ? row->rate : -1;
    case EXPECTED:
        return row->has_prediction ? row->prediction.expected : -1;
    case BEST:
        return row->has_prediction && row->out == NULL ? row->prediction.best : -1;
    case INBREEDING:
        return row->has_inbreeding ? row->inbreeding : -1;
    default:
        return 0;
    }
}

static int compare_rows(const void *left, const void *right)
{
    const struct sorted_row *a = left, *b = right;
    int order = strcmp(a->row->variety, b->row->variety);
    if (order == 0)
        order = (b->value > a->value) - (b->value < a->value);
    if (order == 0)
        order = strcmp(a->row->dam, b->row->dam);
    return order != 0 ? order : strcmp(a->row->sires, b->row->sires);
}

/* Puts them into `shown`; returns how many. */
static size_t sort_rows(struct pairs_screen *screen)
{
    const struct pairs_table *table = screen->made;
    size_t count = 0;
    for (size_t i = 0; i < table->count; i++) {
        const struct pair_row *row = &table->rows[i];
        if (!row->untried || !screen->untried_hidden || row == screen->chosen)
            screen->shown[count++] = (struct sorted_row){row, sort_value(row, screen->sorted)};
    }
    qsort(screen->shown, count, sizeof *screen->shown, compare_rows);
    return count;
}

/* Lists the rows anew and selects this one, where it is among them. */
static void list_rows(struct pairs_screen *screen, const struct pair_row *selected_row)
{
    int count = (int)sort_rows(screen), place = 0;
    for (int i = 0; i < count; i++)
        if (screen->shown[i].row == selected_row)
            place = i;
    list_count(&screen->list, count);
    list_to(&screen->list, place);
}

/* Takes the place of what was made before. */
static void take(struct pairs_screen *screen, struct pairs_table *table)
{
    const struct pair_row *row = same_pair(table, selected(screen));
    screen->chosen = same_pair(table, screen->chosen);
    forget(screen);
    free(screen->shown);
    screen->made = table;
    screen->made_stage = screen->stage;
    screen->shown = alloc_zeroed(table->count + 1, sizeof *screen->shown);
    list_rows(screen, row);
}

static bool make(struct app *app, struct pairs_screen *screen, struct err *err)
{
    struct pairs_table *made = alloc_zeroed(1, sizeof *made);
    if (pairs_make(app->ledger, screen->stage, NULL, 0, &app->watch, made, err)) {
        take(screen, made);
        return true;
    }
    free(made);
    return false;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct pairs_screen *screen = state;
    if ((screen->made == NULL || screen->made_stage != screen->stage) && !make(app, screen, err))
        return false;
    if (screen->asked != NULL) {
        screen->chosen = screen->asked;
        screen->asked = NULL;
        list_rows(screen, screen->chosen);
    }
    return true;
}

/* Drawing. */

/* "3 in 2": spawnings and seasons; "2+1": those that either had with others. */
static void rests_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_row *row = item;
    if (row->spawnings > 0)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%d in %d", row->spawnings, row->seasons);
    else
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%d+%d", row->of_dam, row->of_sires);
}

static void counted_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_row *row = item;
    if (row->has_rate)
        rate_percent(row->rate, ret_text);
    else if (row->untried)
        text_copy(ret_text, COLUMN_TEXT_SIZE, "untried");
}

static void expected_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_row *row = item;
    if (row->has_prediction)
        rate_percent(row->prediction.expected, ret_text);
}

static void best_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_row *row = item;
    if (row->out != NULL)
        text_copy(ret_text, COLUMN_TEXT_SIZE, brood_state_terms[row->out->state].word);
    else if (row->has_prediction)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%.0f", 100 * row->prediction.best);
}

static void inbreeding_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_row *row = item;
    if (row->has_inbreeding)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%.3g", 100 * row->inbreeding);
}

static const struct list_column columns[COLUMN_COUNT] = {
    [NAME] = {.heading = "dam × sires", .width = 16},
    [RESTS] = {.heading = "rests on", .width = 9, .right = true, .text = rests_text},
    [COUNTED] = {.heading = "○ raw%", .width = 8, .right = true, .text = counted_text},
    [EXPECTED] = {.heading = "● exp%", .width = 7, .right = true, .text = expected_text},
    [BEST] = {.heading = "best3", .width = 6, .right = true, .text = best_text},
    [INBREEDING] = {.heading = "inbr%", .width = 6, .right = true, .text = inbreeding_text},
    [CHART] = {.heading = "├─┤ 90 % interval", .gap = 1, .width = -1},
};

/* That of the page: rows of the same variety stand together in the table. */
static double scale_of(const struct pairs_table *table, const char *variety)
{
    size_t first = 0, end;
    while (strcmp(table->rows[first].variety, variety) != 0)
        first++;
    for (end = first; end < table->count && strcmp(table->rows[end].variety, variety) == 0;)
        end++;
    return pairs_scale(table->rows + first, end - first);
}

/* "15.1 to 27.0" */
static const char *range(const struct interval *interval, char ret[2 * RATE_TEXT_SIZE])
{
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    snprintf(ret, 2 * (size_t)RATE_TEXT_SIZE, "%s to %s", rate_percent(interval->low, low),
             rate_percent(interval->high, high));
    return ret;
}

/* On what it rests, and that it was drawn. */
static void add_rest(const struct pair_row *row, struct text *out)
{
    if (row->untried)
        text_add(out, "untried");
    else if (row->spawnings == 0)
        text_add(out, "spawned but not culled yet");
    else
        text_addf(out, "%d spawning%s in %d season%s", row->spawnings,
                  row->spawnings == 1 ? "" : "s", row->seasons, row->seasons == 1 ? "" : "s");
    if (row->spawnings == 0)
        text_addf(out, ", its dam has %d culled with others, its sire %d", row->of_dam,
                  row->of_sires);
}

/* "; counted 2.0 % (95 %: 1.9 to 2.2)" */
static void add_share(const char *what, double share, const char *confidence,
                      const struct interval *interval, struct text *out)
{
    char percent[RATE_TEXT_SIZE], ends[2 * RATE_TEXT_SIZE];
    text_addf(out, "; %s %s %%", what, rate_percent(share, percent));
    if (interval != NULL)
        text_addf(out, " (%s: %s)", confidence, range(interval, ends));
}

static void add_shares(const struct pair_row *row, struct text *out)
{
    const struct parent_prediction *prediction = &row->prediction;
    char ends[2 * RATE_TEXT_SIZE];
    if (row->has_rate)
        add_share("counted", row->rate, "95 %", row->has_interval ? &row->interval : NULL, out);
    if (row->has_prediction) {
        add_share("shrunk towards the average", prediction->expected, "90 %", &prediction->interval,
                  out);
        text_addf(out, "; next spawning %s", range(&prediction->spawning, ends));
    }
}

static void describe(const struct pair_row *row, char *ret, size_t size)
{
    struct text out;
    text_init(&out);
    text_addf(&out, "%s × %s: ", row->dam, row->sires);
    add_rest(row, &out);
    add_shares(row, &out);
    text_add(&out, ".");
    if (row->out != NULL)
        text_addf(&out, " %s is %s%s%s.", row->out->code, brood_state_terms[row->out->state].word,
                  row->out->since[0] != '\0' ? " since " : "", row->out->since);
    if (row->recovered)
        text_add(&out, " More fish were kept than went in.");
    text_copy(ret, size, out.data);
    text_done(&out);
}

static void draw_chart(struct grid *grid, struct area area, const struct pair_row *row,
                       double scale)
{
    const struct whisker whisker = {
        .counted = row->has_rate ? row->rate : NO_SHARE,
        .expected = row->has_prediction ? row->prediction.expected : NO_SHARE,
        .low = row->has_prediction ? row->prediction.interval.low : NO_SHARE,
        .high = row->has_prediction ? row->prediction.interval.high : NO_SHARE};
    whisker_draw(grid, area, scale, &whisker);
}

/* Over the first line of a variety its name and the scale that its lines share. */
static void draw_pair(struct grid *grid, struct rows *rows, const void *model, int index,
                      bool is_selected)
{
    const struct pairs_screen *screen = model;
    const struct sorted_row *line = &screen->shown[index];
    const struct pair_row *pair = line->row;
    bool first = index == 0 || strcmp(pair->variety, line[-1].row->variety) != 0;
    int heading = first ? rows_next(rows) : -1, row = rows_begin(rows, grid, is_selected);
    if (heading < 0 && row < 0)
        return;
    double scale = scale_of(screen->made, pair->variety);
    grid_put(grid, heading, TEXT_COLUMN, -1, STYLE_QUIET,
             pair->variety[0] != '\0' ? pair->variety : "variety not known");
    whisker_scale_draw(grid, column_area(grid, heading, columns, CHART), scale);
    bool chosen = pair == screen->chosen;
    enum style style = chosen ? STYLE_STRONG : STYLE_PLAIN;
    if (chosen)
        grid_put(grid, row, CURSOR_COLUMN + 1, 1, STYLE_STRONG, "?");
    grid_putf(grid, row, TEXT_COLUMN, columns[NAME].width, pair->untried ? style : STYLE_STRONG,
              "%s × %s", pair->dam, pair->sires);
    columns_draw(grid, row, columns, COLUMN_COUNT, pair, style);
    draw_chart(grid, column_area(grid, row, columns, CHART), pair, scale);
}

/* The column that the lines are sorted by stands out, and has a mark. */
static void draw_heading(struct grid *grid, int row, int sorted)
{
    char text[COLUMN_TEXT_SIZE];
    struct area area = column_area(grid, row, columns, sorted);
    columns_heading(grid, row, columns, COLUMN_COUNT);
    snprintf(text, sizeof text, "▼%s", columns[sorted].heading);
    if (columns[sorted].right)
        grid_put_right(grid, row, area.column + area.columns, -1, STYLE_STRONG, text);
    else
        grid_put(grid, row, area.column, -1, STYLE_STRONG, text);
}

/* What was said last, else about the selected pair. */
static const char *foot(const struct app *app, const struct pairs_screen *screen, char *buffer,
                        size_t size)
{
    const struct pair_row *row = selected(screen);
    if (app->message[0] != '\0')
        return app->message;
    if (row == NULL)
        return "";
    describe(row, buffer, size);
    return buffer;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pairs_screen *screen = state;
    char title[STAGE_RANGE_SIZE + 40], beside[40] = "", stages[STAGE_RANGE_SIZE] = "",
                                       about[ERR_TEXT_SIZE];
    const struct pairs_table *table = screen->made != NULL ? screen->made : NULL;
    size_t hidden = table != NULL ? table->count - (size_t)screen->list.count : 0;
    if (table != NULL)
        stage_range(table->first, table->last, stages);
    snprintf(title, sizeof title, "Pairs over the seasons: %s cull", stages);
    if (hidden > 0)
        snprintf(beside, sizeof beside, "%zu untried hidden", hidden);
    const struct frame frame = {.title = title,
                                .beside = beside,
                                .message = foot(app, screen, about, sizeof about),
                                .alert = app->alert,
                                .keys = &pairs_keys};
    struct body body = frame_draw(grid, &frame);
    if (table != NULL && table->no_model[0] != '\0') {
        grid_put(grid, body.top, CURSOR_COLUMN, 1, STYLE_ALERT, "!");
        int rows = grid_wrap(grid, body.top, TEXT_COLUMN, 2, STYLE_STRONG, table->no_model);
        body.top += rows;
        body.rows -= rows;
    }
    draw_heading(grid, body.top++, screen->sorted);
    body.rows--;
    if (screen->list.count == 0)
        grid_put(grid, body.top, TEXT_COLUMN, -1, STYLE_QUIET, "no pair has spawned yet");
    list_draw(&screen->list, grid, body, draw_pair, screen);
}

/* Keys. */

static void choose(struct app *app, void *state, int number)
{
    const struct pairs_screen *screen = state;
    const struct pair_row *row = selected(screen);
    if (row == NULL)
        app_say(app, "There is no pair here; add a spawning with its dam and sires first.");
    else if (row->untried)
        app_say(app, "%s and %s never spawned together, so there are no spawnings.", row->dam,
                row->sires);
    else
        app_open_pair(app, screen->made, row);
}

static bool is_culled(const struct pairs_screen *screen, int stage)
{
    const struct families *families = &screen->made->fit.families;
    bool culled = stage == WHOLE_WAY;
    for (size_t i = 0; i < families->count && !culled; i++)
        culled = family_went_through(&families->list[i], (enum stage)stage, (enum stage)stage);
    return culled;
}

/* To the next cull on that side that some spawning went through. */
static void go_to_stage(struct app *app, void *state, int by)
{
    struct pairs_screen *screen = state;
    int stage = screen->stage + by;
    while (stage > WHOLE_WAY && stage < STAGE_COUNT && !is_culled(screen, stage))
        stage += by;
    if (stage < WHOLE_WAY || stage >= STAGE_COUNT) {
        app_say(app, "There is no further cull in that direction.");
        return;
    }
    screen->stage = stage;
    app->stale = true;
}

static void sort(struct app *app, void *state, int number)
{
    struct pairs_screen *screen = state;
    screen->sorted = (screen->sorted + 1) % SORTABLE;
    list_rows(screen, selected(screen));
}

static void toggle_untried(struct app *app, void *state, int number)
{
    struct pairs_screen *screen = state;
    screen->untried_hidden = !screen->untried_hidden;
    list_rows(screen, selected(screen));
}

/* The dam of the selected pair is offered first. */
static void ask_cross(struct app *app, void *state, int number)
{
    struct pairs_screen *screen = state;
    const struct pair_row *row = selected(screen);
    app_ask_cross(app, screen->made, row != NULL ? row->dam : "", &screen->asked);
}

static bool make_page(struct app *app, int64_t stage, struct page_setup setup, struct text *out,
                      struct err *err)
{
    struct pairs_table made;
    if (!pairs_make(app->ledger, (int)stage, NULL, 0, &app->watch, &made, err))
        return false;
    pairs_print(&made, setup, out);
    pairs_done(&made);
    return true;
}

static void open_page(struct app *app, void *state, int number)
{
    static const struct pages_kind kind = {.title = "The page of the pairs",
                                           .save = "Save the page of the pairs",
                                           .file = "pairs",
                                           .make = make_page};
    app_open_pages(app, &kind, ((const struct pairs_screen *)state)->stage);
}

static void open_parents(struct app *app, void *state, int number)
{
    app_open_parents(app);
}

static const struct key_row rows[] = {
    {"Enter", "spawnings", "the spawnings of the selected pair", .handler = choose},
    {"Left 4 h", "cull before", "the previous cull; before the first, the whole span",
     .handler = go_to_stage, .number = -1},
    {"Right 6 l", "after", "the next cull", .handler = go_to_stage, .number = 1},
    {"* s", "sort", "sort by the next column", .handler = sort},
    {"/ u", "untried", "show the untried crosses, or hide them", .handler = toggle_untried},
    {"+ w", "what if", "choose a dam and a sire, and find their cross in the chart",
     .handler = ask_cross},
    {"5 p", "page", "the pairs on a page, to read, save or print", .handler = open_page},
    {"- o", "parents", "the parents: who can be set, and their pedigrees", .handler = open_parents},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to where you were"),
};

const struct key_table pairs_keys = KEY_TABLE("Pairs over the seasons", rows);

/* Without the pairs, which may not have been read, there is only the way back. */
static void press(struct app *app, void *state, struct key key)
{
    const struct pairs_screen *screen = state;
    int number;
    const struct key_row *row = keys_find(&pairs_keys, key, &number);
    if (screen->made != NULL || row == NULL || row->handler == app_help ||
        row->handler == app_leave)
        app_dispatch(app, state, &pairs_keys, key);
}

static void done(void *state)
{
    struct pairs_screen *screen = state;
    forget(screen);
    free(screen->shown);
    free(screen);
}

static const struct screen_kind pairs_kind = {
    .keys = &pairs_keys, .key = press, .refresh = refresh, .draw = draw, .done = done};

void app_open_pairs(struct app *app)
{
    struct pairs_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->stage = WHOLE_WAY;
    screen->sorted = EXPECTED;
    app_push(app, &pairs_kind, screen);
}
