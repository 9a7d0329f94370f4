/* The spawnings of one pair, season by season, with what each kept. The pair and all that is known
 * of its spawnings belong to the screen below, which stays as it is while this one is open. Nothing
 * is read here, for the model that the rates are set against was fitted to that very reading. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/chart.h"
#include "senbetsu/ui/list.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct pair_spawning {
    const struct spawning *spawning;
    bool counted;
    struct cull cull;         /* the way that the pairs are compared by */
    struct interval interval; /* of its rate, as `has_interval` says */
    bool has_interval;
    bool begins_season;
};

struct pair_screen {
    struct list list;
    struct pair_spawning *spawnings;
    char title[NOTE_SIZE];
    char stages[STAGE_RANGE_SIZE];
    double scale; /* the end of the chart's */
};

/* Filling. */

/* Spawnings without a cull that counts have no family among those the model was fitted to. */
static struct pair_spawning line_of(const struct parents_fit *fit, const struct spawning *spawning)
{
    struct pair_spawning line = {.spawning = spawning};
    for (size_t i = 0; i < fit->families.count && !line.counted; i++) {
        const struct family *family = &fit->families.list[i];
        if (strcmp(family->spawning, spawning->code) != 0 || !parents_fit_counts(fit, family))
            continue;
        line.counted = true;
        line.cull = parents_fit_cull(fit, family);
        line.has_interval = rate_interval(&line.cull, 1, CONFIDENCE_LEVEL, &line.interval);
    }
    return line;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

static void fill(struct pair_screen *screen, const struct pairs_table *made,
                 const struct pair_row *pair)
{
    double most = 0;
    int count = 0;
    screen->spawnings = alloc_zeroed(made->spawning_count + 1, sizeof *screen->spawnings);
    for (size_t i = 0; i < made->spawning_count; i++) {
        const struct spawning *spawning = &made->spawnings[i];
        if (strcmp(spawning->dam, pair->dam) != 0 || strcmp(spawning->sires, pair->sires) != 0)
            continue;
        struct pair_spawning line = line_of(&made->fit, spawning);
        line.begins_season =
            count == 0 || screen->spawnings[count - 1].spawning->season != spawning->season;
        if (line.counted)
            most = larger(most, rate_chained(&line.cull, 1));
        if (line.has_interval)
            most = larger(most, line.interval.high);
        screen->spawnings[count++] = line;
    }
    list_count(&screen->list, count);
    screen->scale = chart_scale(most);
    snprintf(screen->title, sizeof screen->title, "%s × %s", pair->dam, pair->sires);
    stage_range(made->first, made->last, screen->stages);
}

/* Drawing. */

static void season_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_spawning *line = item;
    if (line->begins_season)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%d", line->spawning->season);
}

static void code_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    text_copy(ret_text, COLUMN_TEXT_SIZE, ((const struct pair_spawning *)item)->spawning->code);
}

static void in_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_spawning *line = item;
    if (line->counted)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%" PRId64, line->cull.in);
}

static void kept_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_spawning *line = item;
    if (line->counted)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%" PRId64, line->cull.kept);
}

static void rate_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_spawning *line = item;
    if (line->counted)
        rate_percent(rate_chained(&line->cull, 1), ret_text);
}

static void interval_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct pair_spawning *line = item;
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    if (line->has_interval)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%s to %s", rate_percent(line->interval.low, low),
                 rate_percent(line->interval.high, high));
}

enum { SEASON, CODE, IN, KEPT, RATE, INTERVAL, CHART, COLUMN_COUNT };

static const struct list_column columns[COLUMN_COUNT] = {
    [SEASON] = {.width = 6, .text = season_text},
    [CODE] = {.heading = "spawning", .width = 14, .style = STYLE_STRONG, .text = code_text},
    [IN] = {.heading = "in", .width = 8, .right = true, .text = in_text},
    [KEPT] = {.heading = "kept", .width = 8, .right = true, .text = kept_text},
    [RATE] =
        {.heading = "○ raw%", .width = 7, .right = true, .style = STYLE_STRONG, .text = rate_text},
    [INTERVAL] = {.heading = "95 % interval", .width = 16, .right = true, .text = interval_text},
    [CHART] = {.gap = 2, .width = -1},
};

static void draw_spawning(struct grid *grid, struct rows *rows, const void *model, int index,
                          bool selected)
{
    const struct pair_screen *screen = model;
    const struct pair_spawning *line = &screen->spawnings[index];
    const struct whisker whisker = {.counted =
                                        line->counted ? rate_chained(&line->cull, 1) : NO_SHARE,
                                    .expected = NO_SHARE,
                                    .low = line->has_interval ? line->interval.low : NO_SHARE,
                                    .high = line->has_interval ? line->interval.high : NO_SHARE};
    int row = rows_begin(rows, grid, selected);
    columns_draw(grid, row, columns, COLUMN_COUNT, line, STYLE_PLAIN);
    whisker_draw(grid, column_area(grid, row, columns, CHART), screen->scale, &whisker);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pair_screen *screen = state;
    struct body body = app_frame(app, grid, screen->title, screen->stages);
    columns_heading(grid, body.top, columns, COLUMN_COUNT);
    whisker_scale_draw(grid, column_area(grid, body.top, columns, CHART), screen->scale);
    body.top++;
    body.rows--;
    list_draw(&screen->list, grid, body, draw_spawning, screen);
}

/* Keys. */

static void choose(struct app *app, void *state, int number)
{
    const struct pair_screen *screen = state;
    app_open_spawning(app, screen->spawnings[screen->list.current].spawning->code);
}

static const struct key_row rows[] = {
    {"Enter", "open", "open the selected spawning", .handler = choose},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to the pairs"),
};

const struct key_table pair_keys = KEY_TABLE("The spawnings of a pair", rows);

static void done(void *state)
{
    struct pair_screen *screen = state;
    free(screen->spawnings);
    free(screen);
}

static const struct screen_kind pair_kind = {.keys = &pair_keys, .draw = draw, .done = done};

void app_open_pair(struct app *app, const struct pairs_table *made, const struct pair_row *pair)
{
    struct pair_screen *screen = alloc_zeroed(1, sizeof *screen);
    fill(screen, made, pair);
    app_push(app, &pair_kind, screen);
}
