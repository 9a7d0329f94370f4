/* The spawnings of one pair. What they are made of is the screen's below. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/screens/pair_line.h"
#include "senbetsu/screens/pair_view.h"
#include "senbetsu/screens/screens.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CONFIDENCE 0.95

static const struct family *family_of(const struct families *families, const char *spawning)
{
    for (size_t i = 0; i < families->count; i++)
        if (strcmp(families->list[i].spawning, spawning) == 0)
            return &families->list[i];
    return NULL;
}

static void fill_interval(struct pair_spawning *line, const struct interval *interval)
{
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    snprintf(line->interval, sizeof line->interval, "%s to %s", rate_percent(interval->low, low),
             rate_percent(interval->high, high));
    line->whisker.low = chart_share(interval->low);
    line->whisker.high = chart_share(interval->high);
}

static void fill_rate(struct pair_spawning *line, const struct cull *cull)
{
    struct interval interval;
    snprintf(line->in, sizeof line->in, "%" PRId64, cull->in);
    snprintf(line->kept, sizeof line->kept, "%" PRId64, cull->kept);
    rate_percent(rate_chained(cull, 1), line->rate);
    line->whisker.counted = chart_share(rate_chained(cull, 1));
    if (rate_interval(cull, 1, CONFIDENCE, &interval))
        fill_interval(line, &interval);
}

static struct pair_spawning line_of(const struct parents_fit *fit, const struct spawning *spawning)
{
    const struct family *family = family_of(&fit->families, spawning->code);
    struct pair_spawning line = {.season = spawning->season,
                                 .whisker = {NO_SHARE, NO_SHARE, NO_SHARE, NO_SHARE}};
    text_copy(line.code, sizeof line.code, spawning->code);
    if (family != NULL && parents_fit_counts(fit, family)) {
        struct cull cull = parents_fit_cull(fit, family);
        fill_rate(&line, &cull);
    }
    return line;
}

/* The end of a scale on which all of them fit: 1, 2 or 5 with noughts. */
static int scale_of(const struct pair_view *view)
{
    static const int steps[] = {100, 200, 500};
    int most = 1, end = 0;
    for (size_t i = 0; i < view->spawning_count; i++) {
        const struct whisker *whisker = &view->spawnings[i].whisker;
        int high = whisker->high > whisker->counted ? whisker->high : whisker->counted;
        most = high > most ? high : most;
    }
    for (int noughts = 1; end < most; noughts *= 10)
        for (int i = 0; i < 3 && end < most; i++)
            end = steps[i] * noughts;
    return end;
}

static void fill(struct pair_view *view, const struct pairs_made *made, const struct pair_row *row)
{
    view->spawnings = alloc_zeroed(made->spawning_count + 1, sizeof *view->spawnings);
    for (size_t i = 0; i < made->spawning_count; i++) {
        const struct spawning *spawning = &made->spawnings[i];
        if (strcmp(spawning->dam, row->dam) == 0 && strcmp(spawning->sires, row->sires) == 0)
            view->spawnings[view->spawning_count++] = line_of(&made->fit, spawning);
    }
    snprintf(view->title, sizeof view->title, "%s × %s", row->dam, row->sires);
    stage_range(made->table.first, made->table.last, view->beside);
    view->most = scale_of(view);
    pair_ready(view);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pair_view *view = state;
    view->message = app->message;
    view->alert = app->alert;
    pair_draw(grid, view);
}

static void press(struct app *app, void *state, struct key key)
{
    struct pair_view *view = state;
    int action = list_key(&view->list, CONTEXT_PAIR, key);
    switch (action) {
    case LIST_CHOOSE:
        app_open_spawning(app, view->spawnings[view->list.current].code);
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void done(void *state)
{
    struct pair_view *view = state;
    free(view->spawnings);
    free(view);
}

static const struct screen_kind pair_kind = {
    .draw = draw, .key = press, .done = done, .all_bound = true, .context = CONTEXT_PAIR};

void app_open_pair(struct app *app, const struct pairs_made *made, const struct pair_row *row)
{
    struct pair_view *view = alloc_zeroed(1, sizeof *view);
    fill(view, made, row);
    app_push(app, &pair_kind, view);
}
