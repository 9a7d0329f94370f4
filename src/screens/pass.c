/* The pass of a round on screen: the fish from the best down, each at its score on a scale with the
 * thresholds drawn in, and what would change if they were moved. Where fish tie for the last
 * places, that is named, and a key leads to the closer look that decides it. Nothing is recorded
 * before Enter was pressed twice; what is tried out is read anew only when another screen was over
 * it. */
#include "preview.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    HEAD_ROWS = 6,
    RANK_END = 7,
    FISH_COLUMN = 9,
    SCORE_END = 24,
    MARK_COLUMN = 26,
    SCALE_COLUMN = 31,
    REASON_COLUMNS = 25,
};

static const char *const dial_names[DIAL_COUNT] = {"keep from", "hold from", "places"};

struct pass_screen {
    struct list list; /* of all fish, or of those that change side */
    struct preview preview;
    enum preview_dial dial;
    bool only_changed;
    bool asking; /* Enter was pressed once: the next one records */
    char title[4 * CODE_SIZE];
    char beside[2 * CODE_SIZE]; /* the standard and its version */
};

static void count_lines(struct pass_screen *screen)
{
    const struct preview *preview = &screen->preview;
    list_count(&screen->list,
               (int)(screen->only_changed ? preview->changed_count : preview->run.count));
}

/* The head: dials, the two ribbons, who changes side. */

static void dial_value(const struct preview *preview, enum preview_dial dial,
                       char ret_text[NUMBER_SIZE])
{
    if (dial == DIAL_KEEP_AT)
        number_from_hundredths(preview->run.standard.keep_at, ret_text);
    else if (dial == DIAL_HOLD_AT)
        number_from_hundredths(preview->run.standard.hold_at, ret_text);
    else if (preview->run.places == NO_PLACES)
        snprintf(ret_text, NUMBER_SIZE, "no limit");
    else
        snprintf(ret_text, NUMBER_SIZE, "%d", preview->run.places);
}

static void draw_dials(struct grid *grid, int row, const struct pass_screen *screen)
{
    int column = TEXT_COLUMN;
    for (enum preview_dial dial = 0; dial < DIAL_COUNT; dial++) {
        bool chosen = dial == screen->dial;
        char value[NUMBER_SIZE];
        dial_value(&screen->preview, dial, value);
        grid_put(grid, row, column, -1, chosen ? STYLE_STRONG : STYLE_PLAIN, dial_names[dial]);
        column += (int)strlen(dial_names[dial]) + 1;
        grid_putf(grid, row, column, -1, chosen ? STYLE_CURSOR : STYLE_STRONG,
                  chosen ? "<%s>" : " %s ", value);
        column += 14;
    }
}

/* As many of the fish that change side as the row holds: "2-17 H>K". */
static void draw_changed(struct grid *grid, int row, const struct preview *preview)
{
    if (preview->changed_count == 0) {
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_QUIET, "no fish changes sides");
        return;
    }
    int column = TEXT_COLUMN;
    column += grid_putf(grid, row, column, -1, STYLE_STRONG,
                        "%zu change%s sides:", preview->changed_count,
                        preview->changed_count == 1 ? "s" : "");
    for (size_t i = 0; i < preview->changed_count; i++) {
        size_t index = preview->changed[i];
        const struct pass_fish *fish = &preview->run.fish[index];
        enum verdict verdict = preview->run.decisions[index].verdict;
        char text[64];
        int width = snprintf(
            text, sizeof text, "%d-%d %s>%s", preview->run.bowls[fish->bowl].number, fish->number,
            verdict_marks[preview->before_trial[index]].letter, verdict_marks[verdict].letter);
        if (column + 2 + width + 2 > grid->columns) {
            grid_put(grid, row, column + 1, -1, STYLE_QUIET, "…");
            return;
        }
        column += 2 + grid_put(grid, row, column + 2, -1, verdict_marks[verdict].style, text);
    }
}

/* What the places leave to a person. */
static void draw_open(struct grid *grid, int row, const struct pass_run *run)
{
    char text[TIE_TEXT_SIZE];
    bool open;
    pass_run_open_text(run, &open, text);
    if (text[0] != '\0')
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_STRONG, "%s%s", text,
                  open ? ": 5 takes a closer look" : "");
    else if (picks_total(&run->picks) > 0)
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_QUIET, "%d kept by a closer look at the basins",
                  picks_total(&run->picks));
}

static void draw_head(struct grid *grid, int row, const struct pass_screen *screen)
{
    draw_dials(grid, row, screen);
    progress_draw(grid, row + 1, TEXT_COLUMN, "this pass", &screen->preview.now);
    progress_draw(grid, row + 2, TEXT_COLUMN, "as it stands", &screen->preview.before);
    draw_changed(grid, row + 3, &screen->preview);
    draw_open(grid, row + 4, &screen->preview.run);
    grid_put_right(grid, row + 5, RANK_END, -1, STYLE_QUIET, "rank");
    grid_put(grid, row + 5, FISH_COLUMN, -1, STYLE_QUIET, "bowl-fish");
    grid_put_right(grid, row + 5, SCORE_END, -1, STYLE_QUIET, "score");
    grid_put(grid, row + 5, SCALE_COLUMN, -1, STYLE_QUIET, "0");
    grid_put_right(grid, row + 5, grid->columns - REASON_COLUMNS - 1, -1, STYLE_QUIET, "100");
    grid_put(grid, row + 5, grid->columns - REASON_COLUMNS, -1, STYLE_QUIET, "reason");
}

/* The list. */

static int scale_columns(const struct grid *grid)
{
    return grid->columns - REASON_COLUMNS - 1 - SCALE_COLUMN;
}

/* `score` in units of 1/unit points, out of 100. */
static void put_on_scale(struct grid *grid, int row, int64_t score, int64_t unit, enum style style,
                         const char *mark)
{
    int at = (int)(score * (scale_columns(grid) - 1) / (100 * unit));
    grid_put(grid, row, SCALE_COLUMN + at, 1, style, mark);
}

static void draw_scale(struct grid *grid, int row, const struct preview *preview,
                       const struct decision *decision)
{
    const struct standard *standard = &preview->run.standard;
    put_on_scale(grid, row, standard->hold_at, 100, STYLE_RULE, ":");
    put_on_scale(grid, row, standard->keep_at, 100, STYLE_RULE, "|");
    if (decision->scored)
        put_on_scale(grid, row, decision->score, score_unit(standard),
                     verdict_marks[decision->verdict].style,
                     verdict_marks[decision->verdict].letter);
}

static void draw_verdict(struct grid *grid, int row, enum verdict verdict,
                         enum verdict before_trial)
{
    if (verdict == before_trial)
        grid_put(grid, row, MARK_COLUMN + 2, 1, verdict_marks[verdict].style,
                 verdict_marks[verdict].letter);
    else
        grid_putf(grid, row, MARK_COLUMN, 3, verdict_marks[verdict].style, "%s>%s",
                  verdict_marks[before_trial].letter, verdict_marks[verdict].letter);
}

/* Without the first gloss in brackets, where the reason is too long with it. */
static void shorten_reason(char *reason)
{
    char *gloss = strstr(reason, " ("), *end = gloss != NULL ? strchr(gloss, ')') : NULL;
    if (utf8_width(reason) > REASON_COLUMNS && end != NULL)
        memmove(gloss, end + 1, strlen(end + 1) + 1);
}

static void draw_fish(struct grid *grid, int row, const struct preview *preview, size_t index)
{
    struct fish_row fish;
    char rank[NUMBER_SIZE];
    pass_run_row(&preview->run, index, &fish);
    snprintf(rank, sizeof rank, "%d", fish.rank);
    if (fish.rank > 0)
        grid_put_right(grid, row, RANK_END, -1, STYLE_QUIET, rank);
    grid_putf(grid, row, FISH_COLUMN, -1, STYLE_STRONG, "%d-%d", fish.bowl, fish.number);
    grid_put_right(grid, row, SCORE_END, -1, STYLE_PLAIN, fish.score);
    draw_verdict(grid, row, fish.verdict, preview->before_trial[index]);
    draw_scale(grid, row, preview, &preview->run.decisions[index]);
    shorten_reason(fish.reason_label);
    grid_put(grid, row, grid->columns - REASON_COLUMNS, -1, STYLE_PLAIN, fish.reason_label);
}

/* Is this fish of the order at or above the threshold (hundredths), by its score alone? */
static bool reaches(const struct preview *preview, size_t place, int threshold)
{
    if (place >= preview->run.count)
        return false;
    const struct decision *decision = &preview->run.decisions[preview->run.order[place]];
    return decision->scored &&
           number_compare_fractions(decision->score, score_unit(&preview->run.standard), threshold,
                                    100) >= 0;
}

static void draw_cut(struct grid *grid, struct rows *rows, const struct preview *preview,
                     enum preview_dial dial)
{
    char value[NUMBER_SIZE];
    int row = rows_next(rows);
    dial_value(preview, dial, value);
    grid_rule(grid, row, TEXT_COLUMN, grid->columns - 2 * TEXT_COLUMN);
    grid_putf(grid, row, SCALE_COLUMN, -1, STYLE_STRONG, " %s %s ", dial_names[dial], value);
}

/* Does the last fish at or above the threshold stand at this place of the order? */
static bool ends_above(const struct preview *preview, size_t place, int threshold)
{
    return reaches(preview, place, threshold) && !reaches(preview, place + 1, threshold);
}

static void draw_cuts(struct grid *grid, struct rows *rows, const struct preview *preview,
                      size_t place)
{
    if (place + 1 == preview->first_out && preview->first_out < preview->run.count)
        draw_cut(grid, rows, preview, DIAL_PLACES);
    if (ends_above(preview, place, preview->run.standard.keep_at))
        draw_cut(grid, rows, preview, DIAL_KEEP_AT);
    if (ends_above(preview, place, preview->run.standard.hold_at))
        draw_cut(grid, rows, preview, DIAL_HOLD_AT);
}

static void draw_pass_item(struct grid *grid, struct rows *rows, const void *model, int item,
                           bool selected)
{
    const struct pass_screen *screen = model;
    const struct preview *preview = &screen->preview;
    if (!screen->only_changed && item == 0 && preview->first_out == 0)
        draw_cut(grid, rows, preview, DIAL_PLACES); /* the best are too many */
    int row = rows_begin(rows, grid, selected);
    if (row >= 0)
        draw_fish(grid, row, preview,
                  (screen->only_changed ? preview->changed : preview->run.order)[item]);
    if (!screen->only_changed)
        draw_cuts(grid, rows, preview, (size_t)item);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pass_screen *screen = state;
    struct body body = app_frame(app, grid, screen->title, screen->beside);
    draw_head(grid, body.top, screen);
    struct body list = {.top = body.top + HEAD_ROWS, .rows = body.rows - HEAD_ROWS};
    list_draw(&screen->list, grid, list, draw_pass_item, screen);
}

/* Keys. */

static void turn_dial(struct app *app, void *state, int steps)
{
    struct pass_screen *screen = state;
    preview_turn(&screen->preview, screen->dial, steps);
    count_lines(screen);
}

static void choose_dial(struct app *app, void *state, int by)
{
    struct pass_screen *screen = state;
    screen->dial = (enum preview_dial)(((int)screen->dial + by + DIAL_COUNT) % DIAL_COUNT);
}

static void toggle_changed(struct app *app, void *state, int number)
{
    struct pass_screen *screen = state;
    screen->only_changed = !screen->only_changed;
    screen->list.current = 0;
    count_lines(screen);
}

static void take_closer_look(struct app *app, void *state, int number)
{
    const struct pass_screen *screen = state;
    app_open_closer_look(app, &screen->preview.run);
}

/* When it comes to the top again: a closer look, or somebody else, may have decided fish. */
static bool refresh(struct app *app, void *state, struct err *err)
{
    struct pass_screen *screen = state;
    if (!preview_reload(&screen->preview, app->ledger, err))
        return false;
    count_lines(screen);
    return true;
}

/* Asks first. */
static void record(struct app *app, void *state, int number)
{
    struct pass_screen *screen = state;
    struct preview *preview = &screen->preview;
    struct err err;
    screen->asking = !screen->asking;
    if (screen->asking) {
        app_say(app, "Enter again records the pass%s%s; any other key goes back.",
                preview_moved(preview) ? " and the new thresholds" : "",
                preview->run.tie.count > 0 ? ", the tie undecided" : "");
        return;
    }
    bool recorded = false;
    if (!pass_run_record(app->ledger, &preview->run, app->judge, &recorded, &err) ||
        (!recorded && !refresh(app, state, &err))) {
        app_fail(app, &err);
        return;
    }
    if (!recorded) {
        app_say(app, "Nothing was recorded: fish were judged meanwhile. This is the result now.");
        return;
    }
    const int *verdicts = preview->now.verdicts;
    app_say(app, "The pass is recorded: %d keep, %d hold, %d reject.", verdicts[VERDICT_KEEP],
            verdicts[VERDICT_HOLD], verdicts[VERDICT_REJECT]);
    app_pop(app);
}

static const struct key_row rows[] = {
    {"Left 4 h", "back", "the previous threshold, or the places", .handler = choose_dial,
     .number = -1},
    {"Right 6 l Tab", "on", "the next threshold, or the places", .handler = choose_dial,
     .number = 1},
    {"+", "up", "half a point or one place more", .handler = turn_dial, .number = 1},
    {"-", "down", "half a point or one place less", .handler = turn_dial, .number = -1},
    {"*", "10 up", "five points or ten places more", .handler = turn_dial, .number = 10},
    {"/", "10 down", "five points or ten places less", .handler = turn_dial, .number = -10},
    {"5 t", "closer look", "decide a tie for the last places fish by fish",
     .handler = take_closer_look},
    {"c", "changed", "only the fish that change sides, or all", .handler = toggle_changed},
    {"Enter", "record", "record the pass (press twice)", .handler = record},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("leave, nothing recorded", "leave; nothing is recorded"),
};

const struct key_table pass_keys = KEY_TABLE("The pass", rows);

/* Where it was asked, any other key only takes the question back. */
static void press(struct app *app, void *state, struct key key)
{
    struct pass_screen *screen = state;
    if (screen->asking && key.kind != KEY_RETURN) {
        screen->asking = false;
        app_say(app, "Nothing was recorded.");
        return;
    }
    app_dispatch(app, state, &pass_keys, key);
}

/* Opening. */

static void done(void *state)
{
    struct pass_screen *screen = state;
    preview_done(&screen->preview);
    free(screen);
}

static const struct screen_kind pass_kind = {
    .keys = &pass_keys, .refresh = refresh, .draw = draw, .key = press, .done = done};

/* NULL where it cannot be opened: the reason is said then. */
static struct pass_screen *open_pass(struct app *app, int64_t round_id)
{
    struct round_summary summary;
    struct pass_run run;
    struct err err;
    char sentence[ROUND_SENTENCE_SIZE];
    if (!round_summary_get(app->ledger, round_id, &summary, &err) ||
        !pass_run_load(app->ledger, &summary.round, NULL, &run, &err)) {
        app_fail(app, &err);
        return NULL;
    }
    const struct round round = summary.round;
    struct pass_screen *screen = alloc_zeroed(1, sizeof *screen);
    preview_init(&screen->preview, &run);
    snprintf(screen->title, sizeof screen->title, "%s: pass of the %s cull%s", round_whose(&round),
             stage_terms[round.stage].word, summary.pass.id != 0 ? ", again" : "");
    snprintf(screen->beside, sizeof screen->beside, "%s version %d", run.version.standard.name,
             run.version.version);
    count_lines(screen);
    app_push(app, &pass_kind, screen);
    if (round_pass_outdated(&summary))
        app_say(app, "%s Enter passes again.", round_pass_sentence(&summary, sentence));
    return screen;
}

void app_open_pass(struct app *app, int64_t round_id)
{
    open_pass(app, round_id);
}

void app_resume_closer_look(struct app *app, int64_t round_id)
{
    const struct pass_screen *screen = open_pass(app, round_id);
    if (screen != NULL)
        app_open_closer_look(app, &screen->preview.run);
}
