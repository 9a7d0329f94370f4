/* A spawning and its rounds, or the rounds of one lot; the last line begins another. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/tallies.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct spawning_screen {
    struct list list;
    char code[CODE_SIZE]; /* of the spawning, or of one of those whose fish are in the lot */
    int64_t lot_id;       /* 0 = all lots of the spawning by itself */
    int64_t spawning_id;  /* 0 = of a lot */
    char title[2 * NOTE_SIZE];
    int season;
    struct round_summary *rounds;
    struct first_look *looks; /* of the same rounds */
    size_t count;
};

/* The selected round, NULL = one of the lines below: to begin one, to put right. */
static const struct round_summary *selected(const struct spawning_screen *screen)
{
    size_t index = (size_t)screen->list.current;
    return index < screen->count ? &screen->rounds[index] : NULL;
}

/* Filling. */

/* The line of the round with this id, else the last one, which begins a round. */
static int line_of(const struct round_summary *rounds, size_t count, int64_t id)
{
    size_t i = 0;
    while (i < count && rounds[i].round.id != id)
        i++;
    return (int)i;
}

/* Where the cursor goes when the rounds have been read anew: it stays on its round; from the line
 * that begins one it goes to the round that has been begun, if there is one. */
static int line_to_select(const struct spawning_screen *screen, const struct round_summary *rounds,
                          size_t count)
{
    const struct round_summary *before = selected(screen);
    if (screen->rounds == NULL)
        return 0;
    if (before != NULL)
        return line_of(rounds, count, before->round.id);
    if (screen->list.current > (int)screen->count)
        return (int)count + 1;
    for (size_t i = 0; i < count && count > screen->count; i++)
        if (line_of(screen->rounds, screen->count, rounds[i].round.id) == (int)screen->count)
            return (int)i;
    return (int)count;
}

static bool name_spawning(struct app *app, struct spawning_screen *screen, struct err *err)
{
    struct spawning spawning;
    char pair[NOTE_SIZE];
    if (!spawning_get(app->ledger, screen->code, &spawning, err))
        return false;
    screen->season = spawning.season;
    screen->spawning_id = spawning.id;
    snprintf(screen->title, sizeof screen->title, "%s: %s  %s", spawning.code, spawning.variety,
             pair_text(&spawning, pair, sizeof pair));
    return true;
}

/* The spawnings of a mixed lot are many; any of them leads to its rounds. */
static bool name_lot(struct app *app, struct spawning_screen *screen, struct err *err)
{
    struct lot_origin *lots;
    size_t count;
    if (!lot_origins_list(app->ledger, &lots, &count, err))
        return false;
    const struct lot_origin *lot = lot_origin_find(lots, count, screen->lot_id);
    if (lot != NULL) {
        text_copy(screen->code, strcspn(lot->spawnings, ";") + 1, lot->spawnings);
        screen->season = lot->season;
        snprintf(screen->title, sizeof screen->title, "%s: %s  %s %.600s", lot->lot, lot->variety,
                 lot->mixed ? "mixed from" : "lot of", lot->spawnings);
    }
    lot_origins_free(lots, count);
    return lot != NULL || err_set(err, ERR_ABSENT, "This lot is not in the ledger.");
}

static bool belongs_here(const struct spawning_screen *screen, const struct round *round)
{
    return screen->lot_id != 0 ? round->lot_id == screen->lot_id
                               : strcmp(round->spawning, screen->code) == 0;
}

static bool read_looks(struct app *app, const struct round_summary *rounds, size_t count,
                       struct first_look **ret, struct err *err)
{
    struct first_look *looks = alloc_zeroed(count + 1, sizeof *looks);
    for (size_t i = 0; i < count; i++)
        if (!first_look_get(app->ledger, rounds[i].round.id, &looks[i], err)) {
            free(looks);
            return false;
        }
    *ret = looks;
    return true;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct spawning_screen *screen = state;
    struct round_summary *rounds;
    struct first_look *looks;
    size_t all, count = 0;
    if (!(screen->lot_id != 0 ? name_lot(app, screen, err) : name_spawning(app, screen, err)) ||
        !round_summary_list(app->ledger, screen->code, &rounds, &all, err))
        return false;
    for (size_t i = 0; i < all; i++)
        if (belongs_here(screen, &rounds[i].round))
            rounds[count++] = rounds[i];
    if (!read_looks(app, rounds, count, &looks, err)) {
        free(rounds);
        return false;
    }
    int line = line_to_select(screen, rounds, count);
    free(screen->rounds);
    free(screen->looks);
    screen->rounds = rounds;
    screen->looks = looks;
    screen->count = count;
    list_count(&screen->list, (int)count + 2);
    list_to(&screen->list, line);
    return true;
}

/* Drawing. */

static void draw_round(struct grid *grid, struct rows *rows, const struct spawning_screen *screen,
                       size_t index, bool is_selected)
{
    const struct round_summary *round = &screen->rounds[index];
    char text[ROUND_TEXT_SIZE], look[FIRST_LOOK_TEXT_SIZE], sentence[ROUND_SENTENCE_SIZE];
    int row = rows_begin(rows, grid, is_selected);
    /* The title of a lot's screen names it. */
    progress_draw(grid, row, TEXT_COLUMN,
                  screen->lot_id != 0 ? stage_terms[round->round.stage].word
                                      : round_name(&round->round, text),
                  &round->tally);
    grid_put(grid, rows_next(rows), TEXT_COLUMN + 2, -1, STYLE_QUIET, round_about(round, text));
    if (round_pass_outdated(round))
        grid_put(grid, rows_next(rows), TEXT_COLUMN + 2, -1, STYLE_STRONG,
                 round_pass_sentence(round, sentence));
    if (screen->looks[index].looked_at > 0)
        grid_putf(grid, rows_next(rows), TEXT_COLUMN + 2, -1, STYLE_QUIET, "first look: %s",
                  first_look_text(&screen->looks[index], look));
    rows_next(rows);
}

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int item,
                      bool is_selected)
{
    const struct spawning_screen *screen = model;
    if ((size_t)item < screen->count) {
        draw_round(grid, rows, screen, (size_t)item, is_selected);
        return;
    }
    int row = rows_begin(rows, grid, is_selected);
    grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN,
             (size_t)item == screen->count ? "+ begin a round"
             : screen->lot_id != 0         ? "e put the lot right, or retire it"
                                           : "e put the spawning right, or retire it");
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct spawning_screen *screen = state;
    char season[32];
    snprintf(season, sizeof season, "season %d", screen->season);
    struct body body = app_frame(app, grid, screen->title, season);
    body.top++;
    body.rows--;
    list_draw(&screen->list, grid, body, draw_line, screen);
}

/* Keys. */

static void begin_round(struct app *app, void *state, int number)
{
    const struct spawning_screen *screen = state;
    if (screen->lot_id != 0)
        app_ask_new_round_of_lot(app, screen->lot_id);
    else
        app_ask_new_round(app, screen->code);
}

/* What is done with the selected round; from the pass on only fish judged one by one have it. */
enum { OPEN, CHANGE, FATES, PASS, LIST };
static void (*const tasks[])(struct app *app, int64_t round_id) = {
    [OPEN] = app_open_round, [CHANGE] = app_ask_round, [FATES] = app_ask_fates,
    [PASS] = app_open_pass,  [LIST] = app_open_list,
};

static void open_task(struct app *app, void *state, int task)
{
    const struct round_summary *round = selected(state);
    if (round == NULL)
        app_say(app, "Select a round first, or begin one with +.");
    else if (task >= PASS && round->round.manner != MANNER_JUDGE)
        app_say(app, "The fish of this round are tallied, not judged one by one.");
    else
        tasks[task](app, round->round.id);
}

static void open_record(struct app *app, void *state, int number)
{
    const struct spawning_screen *screen = state;
    const struct round_summary *round = selected(screen);
    if (round != NULL)
        app_open_record(app, RECORD_ROUND, round->round.id);
    else if (screen->lot_id != 0)
        app_open_record(app, RECORD_LOT, screen->lot_id);
    else
        app_open_record(app, RECORD_SPAWNING, screen->spawning_id);
}

static void choose(struct app *app, void *state, int number)
{
    const struct spawning_screen *screen = state;
    if (selected(screen) != NULL)
        open_task(app, state, OPEN);
    else if (screen->list.current == (int)screen->count)
        begin_round(app, state, number);
    else
        open_record(app, state, number);
}

static void open_lots(struct app *app, void *state, int number)
{
    app_open_lots(app, ((const struct spawning_screen *)state)->code);
}

static const struct key_row rows[] = {
    {"Enter", "open", "open the selected round", .handler = choose},
    {"+ n", "begin a round", "begin a round", .handler = begin_round},
    {"* c", "change", "change the round: standard, places, fish expected, fates",
     .handler = open_task, .number = CHANGE},
    {"5 p", "pass", "the culling pass of the selected round", .handler = open_task, .number = PASS},
    {"6 l", "list", "the cull list of the selected round", .handler = open_task, .number = LIST},
    {"- r", "fates", "enter where the rejects of the selected round went", .handler = open_task,
     .number = FATES},
    {"/ o", "lots", "its lots: split, merge, dead fish, ponds", .handler = open_lots},
    RECORD_KEYS("put the selected round right, or the spawning; retire it"),
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to the spawnings"),
};

const struct key_table spawning_keys = KEY_TABLE("The rounds of a spawning", rows);

static void done(void *state)
{
    struct spawning_screen *screen = state;
    free(screen->rounds);
    free(screen->looks);
    free(screen);
}

static const struct screen_kind spawning_kind = {
    .keys = &spawning_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_spawning(struct app *app, const char *code)
{
    struct spawning_screen *screen = alloc_zeroed(1, sizeof *screen);
    text_copy(screen->code, sizeof screen->code, code);
    app_push(app, &spawning_kind, screen);
}

void app_open_lot(struct app *app, int64_t lot_id)
{
    struct spawning_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->lot_id = lot_id;
    app_push(app, &spawning_kind, screen);
}
