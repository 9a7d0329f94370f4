/* A round and its bowls; below them lines for the next bowl, the second look where fish are held,
 * the first look and counting by samples. Several sorters work at one round, each on a terminal of
 * his own: the bowls are read anew whenever the terminal is idle, and the cursor keeps to its bowl
 * by its id, never by its place in the list. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/tallies.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A round in words. */

const char *round_name(const struct round *round, char ret_text[ROUND_TEXT_SIZE])
{
    const char *lot = round->own_lot ? "" : round->lot;
    snprintf(ret_text, ROUND_TEXT_SIZE, "%s%s%s", stage_terms[round->stage].word,
             lot[0] != '\0' ? " " : "", lot);
    return ret_text;
}

const char *round_about(const struct round_summary *summary, char ret_text[ROUND_TEXT_SIZE])
{
    const struct round *round = &summary->round;
    struct text out;
    text_init(&out);
    if (round->manner != MANNER_JUDGE)
        text_add(&out, summary->stated ? "stated" : "tallied");
    else
        text_addf(&out, "%d %s", summary->bowls, summary->bowls == 1 ? "bowl" : "bowls");
    if (summary->first_day[0] != '\0')
        text_addf(&out, ", %s", summary->first_day);
    if (strcmp(summary->first_day, summary->last_day) != 0)
        text_addf(&out, " to %s", summary->last_day);
    if (round->places >= 0)
        text_addf(&out, ", %d places", round->places);
    if (summary->picked > 0)
        text_addf(&out, ", %d picked in basins", summary->picked);
    if (round->standard[0] != '\0')
        text_addf(&out, ", by %s", round->standard);
    if (round->fate != FATE_UNDECIDED)
        text_addf(&out, ", rejects %s", fate_terms[round->fate].word);
    text_copy(ret_text, ROUND_TEXT_SIZE, out.data);
    text_done(&out);
    return ret_text;
}

/* The screen. */

/* A line of the list: a bowl, or one of those below. */
enum line { LINE_BOWL, LINE_NEXT, LINE_SECOND_LOOK, LINE_FIRST_LOOK, LINE_SAMPLES, LINE_RECORD };

struct round_screen {
    struct list list;
    int64_t round_id;
    struct round_summary summary;
    struct first_look look;
    bool is_filled; /* the bowls have been read, though there may be none */
    struct bowl *bowls;
    size_t count;
};

static int held(const struct round_screen *screen)
{
    return screen->summary.tally.verdicts[VERDICT_HOLD];
}

static enum line line_at(const struct round_screen *screen, int item)
{
    int below = item - (int)screen->count;
    if (below < 0)
        return LINE_BOWL;
    if (below > 0 && held(screen) == 0)
        below++;
    return (enum line)(LINE_NEXT + below);
}

/* The selected bowl, or NULL. */
static const struct bowl *selected(const struct round_screen *screen)
{
    size_t index = (size_t)screen->list.current;
    return index < screen->count ? &screen->bowls[index] : NULL;
}

/* Filling. */

static size_t bowl_at(const struct bowl *bowls, size_t count, int64_t id)
{
    size_t i = 0;
    while (i < count && bowls[i].id != id)
        i++;
    return i;
}

/* The first bowl in which fish are still to be judged, else the line of the next one. */
static size_t open_bowl(const struct bowl *bowls, size_t count)
{
    size_t i = 0;
    while (i < count && bowls[i].expected > 0 && bowls[i].tally.judged >= bowls[i].expected)
        i++;
    return i;
}

/* Is this a bowl that this judge has begun since the screen was filled? */
static bool is_begun_here(struct app *app, const struct round_screen *screen, int64_t bowl_id)
{
    struct place place;
    struct err err;
    return place_get(app->ledger, app->judge, &place, &err) && place.bowl_id == bowl_id &&
           bowl_at(screen->bowls, screen->count, bowl_id) == screen->count;
}

/* Where the cursor goes when the bowls have been read anew, for another sorter may have begun one:
 * it stays on its bowl or line; from the line of the next bowl it goes to the one that was taken.
 */
static int line_to_select(struct app *app, const struct round_screen *screen,
                          const struct round_screen *filled)
{
    const struct bowl *before = selected(screen);
    if (!screen->is_filled)
        return (int)open_bowl(filled->bowls, filled->count);
    if (before != NULL)
        return (int)bowl_at(filled->bowls, filled->count, before->id);
    enum line line = line_at(screen, screen->list.current);
    for (size_t i = 0; i < filled->count && line == LINE_NEXT; i++)
        if (is_begun_here(app, screen, filled->bowls[i].id))
            return (int)i;
    int item = (int)filled->count;
    while (line_at(filled, item) < line)
        item++;
    return item;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct round_screen *screen = state;
    struct round_screen filled = {
        .list = screen->list, .round_id = screen->round_id, .is_filled = true};
    if (!first_look_get(app->ledger, screen->round_id, &filled.look, err) ||
        !round_summary_get(app->ledger, screen->round_id, &filled.summary, err) ||
        !bowl_list(app->ledger, screen->round_id, &filled.bowls, &filled.count, err))
        return false;
    for (size_t i = 0; i < filled.count; i++)
        filled.bowls[i].tally.expected = filled.bowls[i].expected;
    list_count(&filled.list, (int)filled.count + 4 + (held(&filled) > 0));
    list_to(&filled.list, line_to_select(app, screen, &filled));
    free(screen->bowls);
    *screen = filled;
    return true;
}

/* Drawing. */

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int item,
                      bool is_selected)
{
    const struct round_screen *screen = model;
    char text[FIRST_LOOK_TEXT_SIZE];
    int row = rows_begin(rows, grid, is_selected);
    switch (line_at(screen, item)) {
    case LINE_BOWL:
        snprintf(text, sizeof text, "bowl %d", screen->bowls[item].number);
        progress_draw(grid, row, TEXT_COLUMN, text, &screen->bowls[item].tally);
        if (screen->bowls[item].station[0] != '\0') /* there are two of this number */
            grid_putf(grid, rows_next(rows), TEXT_COLUMN + 2, -1, STYLE_PLAIN, "of %s",
                      screen->bowls[item].station);
        break;
    case LINE_NEXT:
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "+ next bowl");
        break;
    case LINE_SECOND_LOOK:
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_HOLD, "H second look at the %d held",
                  held(screen));
        break;
    case LINE_FIRST_LOOK:
        first_look_text(&screen->look, text);
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "g first look at the lot%s%s",
                  text[0] != '\0' ? ": " : "", text);
        break;
    case LINE_SAMPLES:
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "t count the fish by samples");
        break;
    case LINE_RECORD:
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "e put the round right, or retire it");
        break;
    }
}

/* Whether there was a pass, and what the next one would be asked for. */
static void draw_pass(struct grid *grid, int row, const struct round_summary *summary)
{
    char sentence[ROUND_SENTENCE_SIZE];
    if (round_pass_outdated(summary))
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_STRONG, "%s 5 passes again.",
                  round_pass_sentence(summary, sentence));
    else if (summary->pass.id != 0)
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_QUIET, "as the pass decided");
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct round_screen *screen = state;
    const struct round *round = &screen->summary.round;
    char title[2 * ROUND_TEXT_SIZE], text[ROUND_TEXT_SIZE];
    snprintf(title, sizeof title, "%s: %s", round_whose(round), round_name(round, text));
    struct body body = app_frame(app, grid, title, app->judge_name);
    progress_draw(grid, body.top, TEXT_COLUMN, "whole round", &screen->summary.tally);
    grid_put(grid, body.top + 1, TEXT_COLUMN, -1, STYLE_QUIET, round_about(&screen->summary, text));
    draw_pass(grid, body.top + 2, &screen->summary);
    int head = screen->summary.pass.id != 0 ? 4 : 3;
    struct body list = {.top = body.top + head, .rows = body.rows - head};
    list_draw(&screen->list, grid, list, draw_line, screen);
}

/* Keys. */

static void open_second_look(struct app *app, int64_t round_id)
{
    app_open_second_look(app, round_id, NULL);
}

static void put_right(struct app *app, int64_t round_id)
{
    app_open_record(app, RECORD_ROUND, round_id);
}

/* What the lines below the bowls open, and what keys open besides. */
enum { PASS = LINE_RECORD + 1, LIST, CHANGE, FATES };
static void (*const tasks[])(struct app *app, int64_t round_id) = {
    [LINE_NEXT] = app_ask_bowl,
    [LINE_SECOND_LOOK] = open_second_look,
    [LINE_FIRST_LOOK] = app_open_first_look,
    [LINE_SAMPLES] = app_ask_samples,
    [LINE_RECORD] = put_right,
    [PASS] = app_open_pass,
    [LIST] = app_open_list,
    [CHANGE] = app_ask_round,
    [FATES] = app_ask_fates,
};

static void open_task(struct app *app, void *state, int task)
{
    tasks[task](app, ((const struct round_screen *)state)->round_id);
}

static void choose(struct app *app, void *state, int number)
{
    const struct round_screen *screen = state;
    enum line line = line_at(screen, screen->list.current);
    if (line == LINE_BOWL)
        app_open_sheet(app, selected(screen)->id, NULL);
    else
        open_task(app, state, (int)line);
}

static void count_bowl(struct app *app, void *state, int number)
{
    const struct bowl *bowl = selected(state);
    if (bowl != NULL)
        app_ask_count(app, bowl->id);
    else
        app_say(app, "Select a bowl first; then enter how many fish it holds.");
}

static void open_record(struct app *app, void *state, int number)
{
    const struct bowl *bowl = selected(state);
    if (bowl != NULL)
        app_open_record(app, RECORD_BOWL, bowl->id);
    else
        put_right(app, ((const struct round_screen *)state)->round_id);
}

static const struct key_row rows[] = {
    {"Enter", "judge", "judge on in the selected bowl", .handler = choose},
    {"+ b", "next bowl", "take the next bowl", .handler = open_task, .number = LINE_NEXT},
    {"4 h", "second look", "judge the held fish again, one after another", .handler = open_task,
     .number = LINE_SECOND_LOOK},
    {"5 p", "pass", "the culling pass", .handler = open_task, .number = PASS},
    {"6 l", "list", "the cull list", .handler = open_task, .number = LIST},
    {"g", NULL, "a first look: what share of the lot is good", .handler = open_task,
     .number = LINE_FIRST_LOOK},
    {"* c", "change", "change the round: cull, lot, standard, places, fates", .handler = open_task,
     .number = CHANGE},
    {"/ f", NULL, "enter how many fish the selected bowl holds", .handler = count_bowl},
    {"t", NULL, "count the fish by samples: weighed, displaced or scooped", .handler = open_task,
     .number = LINE_SAMPLES},
    {"- r", "fates", "enter where the rejects went", .handler = open_task, .number = FATES},
    RECORD_KEYS("put the selected bowl right, or the round; retire it"),
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to the rounds"),
};

const struct key_table round_keys = KEY_TABLE("The bowls of a round", rows);

static void done(void *state)
{
    free(((struct round_screen *)state)->bowls);
    free(state);
}

static const struct screen_kind round_kind = {
    .keys = &round_keys, .refresh = refresh, .draw = draw, .done = done};

static void open_bowls(struct app *app, int64_t round_id)
{
    struct round_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->round_id = round_id;
    app_push(app, &round_kind, screen);
}

void app_open_round(struct app *app, int64_t round_id)
{
    struct round round;
    struct err err;
    if (!round_get(app->ledger, round_id, &round, &err))
        app_fail(app, &err);
    else if (round.manner == MANNER_JUDGE)
        open_bowls(app, round_id);
    else
        app_open_tally(app, round_id, false);
}

void app_open_place(struct app *app, const struct place *place)
{
    struct round round;
    struct err err;
    if (!round_get(app->ledger, place->round_id, &round, &err)) {
        app_fail(app, &err);
        return;
    }
    if (round.spawning[0] != '\0')
        app_open_spawning(app, round.spawning);
    else
        app_open_lot(app, round.lot_id);
    if (round.manner != MANNER_JUDGE) {
        app_open_tally(app, round.id, round_place_is(place, AT_SCOOPS));
    } else {
        open_bowls(app, round.id);
    }
    if (round_place_is(place, AT_FIRST_LOOK))
        app_open_first_look(app, round.id);
    else if (round_place_is(place, AT_CLOSER_LOOK))
        app_resume_closer_look(app, round.id);
    else if (place->second_look)
        app_open_second_look(app, round.id, place);
    else if (place->bowl_id != 0)
        app_open_sheet(app, place->bowl_id, place);
}
