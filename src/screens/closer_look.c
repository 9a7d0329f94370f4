/* The closer look at a tie (report/closer_look.h), over the pass that named it. In cells the tied
 * fish come up one after another: which one, what is known of it, how many places are left. In
 * basins no fish has a number any more, so it is a tally: one key a fish picked out of the hold
 * basin. A session that is broken off comes back here, and what was decided is in the ledger. */
#include "senbetsu/report/closer_look.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/counter.h"

#include <stdio.h>
#include <stdlib.h>

struct closer_look_screen {
    struct closer_look look;
    size_t at; /* the fish in front, of look.fish; in cells */
    char title[TITLE_SIZE];
    bool asking; /* the key that leaves the rest was pressed once */
};

/* What is shown. */

enum { BIG_TOP = 2, FACTS_TOP = BIG_TOP + 1 + BIG_ROWS + 1, PLACES_COLUMN = 28 };

static int undecided(const struct closer_look *look)
{
    return (int)look->count - look->taken - look->left;
}

static const char *plural(int fish)
{
    return fish == 1 ? "" : "s";
}

static void draw_number(struct grid *grid, int row, int column, const char *caption, int number,
                        enum style style)
{
    char digits[16];
    snprintf(digits, sizeof digits, "%d", number);
    grid_put(grid, row, column, -1, STYLE_QUIET, caption);
    big_draw(grid, row + 1, column, 1, style, digits);
}

static int places_left(const struct closer_look *look)
{
    return look->run.tie.places_left > 0 ? look->run.tie.places_left : 0;
}

/* The tie, and once it is none, what is left to do. */
static void draw_standing(struct grid *grid, int row, const struct closer_look *look)
{
    char text[TIE_TEXT_SIZE];
    bool open;
    int rest = undecided(look);
    if (pass_run_open_text(&look->run, &open, text)[0] != '\0')
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_STRONG, text);
    else if (rest > 0)
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_STRONG,
                  "all places are taken: * leaves the other %d", rest);
    else
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_STRONG,
                 "the tie is decided: record the pass next");
}

static void draw_margin(struct grid *grid, int row, const struct closer_look_screen *screen,
                        const struct fish *fish)
{
    const struct closer_look *look = &screen->look;
    static const char *const words[VERDICT_COUNT] = {"not yet", "taken", "not taken", ""};
    struct margin margin = {grid, row, grid->columns - MARGIN_COLUMNS};
    char text[64];
    margin_line(&margin, "decided", words[closer_look_verdict(look, screen->at)]);
    margin_line(&margin, "tag", fish->tag);
    text[0] = '\0';
    if (fish->length_mm > 0)
        snprintf(text, sizeof text, "%d mm", fish->length_mm);
    margin_line(&margin, "length", text);
    margin.row++;
    snprintf(text, sizeof text, "%zu of %zu", screen->at + 1, look->count);
    margin_line(&margin, "fish", text);
    margin_number(&margin, "taken", look->taken, "");
    margin_number(&margin, "not taken", look->left, "");
}

/* The scores of the look that decided, in columns. Returns the rows used. */
static int draw_scores(struct grid *grid, int row, const struct standard *standard,
                       const struct judgement *judgement)
{
    enum { COLUMNS = 3, NUMBER = 3 };
    int rows = (standard->aspect_count + COLUMNS - 1) / COLUMNS;
    int width = (grid->columns - TEXT_COLUMN) / COLUMNS;
    for (int i = 0; i < standard->aspect_count; i++) {
        char label[LABEL_TEXT_SIZE];
        int column = TEXT_COLUMN + i / rows * width, score = judgement->scores[i];
        if (score != SCORE_NONE)
            grid_putf(grid, row + i % rows, column, NUMBER, STYLE_STRONG, "%d", score);
        grid_put(grid, row + i % rows, column + NUMBER, width - NUMBER - 1, STYLE_PLAIN,
                 label_fit(standard->aspects[i].label, width - NUMBER - 1, label));
    }
    return rows;
}

static int draw_faults(struct grid *grid, int row, const struct standard *standard, uint32_t seen)
{
    struct text text;
    text_init(&text);
    for (int i = 0; i < standard->fault_count; i++)
        if ((seen >> i & 1) != 0)
            text_join(&text, ", ", standard->faults[i].label);
    int rows = grid_wrap(grid, row, TEXT_COLUMN, 2, STYLE_PLAIN,
                         text.length > 0 ? text.data : "no fault seen");
    text_done(&text);
    return rows;
}

static void draw_fish(struct grid *grid, struct body body, const struct closer_look_screen *screen,
                      const struct fish *fish)
{
    const struct closer_look *look = &screen->look;
    struct judgement judgement = fish_deciding(fish, &look->run.standard);
    enum verdict verdict = closer_look_verdict(look, screen->at);
    char caption[32];
    snprintf(caption, sizeof caption, "bowl %d, fish", fish->bowl);
    draw_number(grid, body.top + BIG_TOP, TEXT_COLUMN, caption, fish->number,
                verdict == VERDICT_OPEN ? STYLE_STRONG : verdict_marks[verdict].style);
    draw_margin(grid, body.top + BIG_TOP, screen, fish);
    int row = body.top + FACTS_TOP;
    row += draw_scores(grid, row, &look->run.standard, &judgement);
    row += draw_faults(grid, row, &look->run.standard, judgement.faults);
    if (fish->note[0] != '\0')
        grid_putf(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, "note: %s", fish->note);
}

static void draw_in_cells(struct app *app, void *state, struct grid *grid)
{
    const struct closer_look_screen *screen = state;
    struct body body = app_frame(app, grid, screen->title, app->judge_name);
    draw_standing(grid, body.top, &screen->look);
    draw_number(grid, body.top + BIG_TOP, PLACES_COLUMN, "places left", places_left(&screen->look),
                STYLE_STRONG);
    struct fish fish;
    struct err err;
    if (screen->at >= screen->look.count)
        return;
    if (closer_look_fish(app->ledger, &screen->look, screen->at, &fish, &err))
        draw_fish(grid, body, screen, &fish);
    else
        app_fail(app, &err);
}

static void draw_in_basins(struct app *app, void *state, struct grid *grid)
{
    const struct closer_look_screen *screen = state;
    const struct closer_look *look = &screen->look;
    struct body body = app_frame(app, grid, screen->title, app->judge_name);
    char text[TIE_TEXT_SIZE];
    bool open;
    int left = places_left(look), stay = look->run.picks.stay;
    int can_stay = look->in_keep < left ? look->in_keep : left;
    grid_put(grid, body.top, TEXT_COLUMN, -1, STYLE_STRONG,
             pass_run_open_text(&look->run, &open, text));
    draw_number(grid, body.top + BIG_TOP, TEXT_COLUMN, "picked", look->run.picks.from_hold,
                STYLE_KEEP);
    draw_number(grid, body.top + BIG_TOP, PLACES_COLUMN, "places left", left, STYLE_STRONG);
    struct margin margin = {grid, body.top + BIG_TOP, grid->columns - MARGIN_COLUMNS};
    margin_number(&margin, "still held", look->in_hold, "");
    margin_number(&margin, "staying", stay, "");
    int row = body.top + FACTS_TOP;
    if (stay > 0)
        grid_putf(grid, row++, TEXT_COLUMN, -1, STYLE_PLAIN,
                  "%d of the tie stay in the keep basin; * takes that back.", stay);
    else if (can_stay > 0)
        grid_putf(grid, row++, TEXT_COLUMN, -1, STYLE_STRONG,
                  "%d of the tie lie in the keep basin: * lets the best %d stay.", look->in_keep,
                  can_stay);
    if (left > 0 && look->in_hold > 0)
        grid_putf(grid, row++, TEXT_COLUMN, -1, STYLE_STRONG,
                  "Go through the hold basin again (%d): pick the best %d.", look->in_hold,
                  left < look->in_hold ? left : look->in_hold);
    else if (left == 0)
        grid_put(grid, row++, TEXT_COLUMN, -1, STYLE_STRONG,
                 "All places are taken; record the pass next.");
    grid_put(grid, row + 1, TEXT_COLUMN, -1, STYLE_QUIET,
             "Put each fish you pick into the keep basin as you press the key.");
}

/* What the keys do. */

static struct place place_here(const struct app *app, const struct closer_look_screen *screen)
{
    return round_place(app->judge, screen->look.run.round.id, AT_CLOSER_LOOK, true);
}

static const struct pass_fish *in_front(const struct closer_look_screen *screen)
{
    return screen->at < screen->look.count ? &screen->look.run.fish[screen->look.fish[screen->at]]
                                           : NULL;
}

static int bowl_of(const struct closer_look_screen *screen, const struct pass_fish *fish)
{
    return screen->look.run.bowls[fish->bowl].number;
}

/* To this fish, or as near as there is one. */
static void go_to_fish(struct closer_look_screen *screen, int64_t id)
{
    const struct closer_look *look = &screen->look;
    for (size_t i = 0; i < look->count; i++)
        if (look->run.fish[look->fish[i]].id == id)
            screen->at = i;
    if (screen->at >= look->count && look->count > 0)
        screen->at = look->count - 1;
}

/* The next fish that is not decided, round and round; where all are and a place is free, the next
 * that was left; else the cursor stays. */
static void go_to_undecided(struct closer_look_screen *screen)
{
    const struct closer_look *look = &screen->look;
    enum verdict wanted =
        undecided(look) == 0 && places_left(look) > 0 ? VERDICT_HOLD : VERDICT_OPEN;
    for (size_t i = 0; i < look->count; i++) {
        size_t at = (screen->at + i) % look->count;
        if (closer_look_verdict(look, at) == wanted) {
            screen->at = at;
            return;
        }
    }
}

static void decide(struct app *app, void *state, int verdict)
{
    struct closer_look_screen *screen = state;
    struct place place = place_here(app, screen);
    const struct pass_fish *fish = in_front(screen);
    struct err err;
    if (fish == NULL)
        return;
    int64_t id = fish->id;
    int bowl = bowl_of(screen, fish), number = (int)fish->number;
    if (!closer_look_decide(app->ledger, &screen->look, id, (enum verdict)verdict, app->judge,
                            &place, &err)) {
        go_to_fish(screen, id);
        app_fail(app, &err);
        return;
    }
    app_say(app, "Fish %d of bowl %d is %s.", number, bowl,
            verdict == VERDICT_KEEP ? "taken" : "not taken");
    go_to_fish(screen, id);
    go_to_undecided(screen);
}

static void undo(struct app *app, void *state, int number)
{
    struct closer_look_screen *screen = state;
    struct place place = place_here(app, screen);
    int64_t id;
    struct err err;
    if (!closer_look_undo(app->ledger, &screen->look, app->judge, &place, &id, &err)) {
        app_fail(app, &err);
        return;
    }
    go_to_fish(screen, id);
    const struct pass_fish *fish = in_front(screen);
    app_say(app, "Undone on fish %d of bowl %d.", (int)fish->number, bowl_of(screen, fish));
}

static void step(struct app *app, void *state, int by)
{
    struct closer_look_screen *screen = state;
    size_t count = screen->look.count;
    if (count > 0)
        screen->at = (screen->at + count + (size_t)(by + 1) - 1) % count;
}

static void leave(struct app *app, void *state, int number)
{
    const struct closer_look_screen *screen = state;
    struct place place = round_place(app->judge, screen->look.run.round.id, 0, false);
    struct err err;
    bool kept = place_save(app->ledger, &place, &err);
    app_pop(app);
    if (!kept)
        app_fail(app, &err);
}

/* Asks first. */
static void leave_rest(struct app *app, void *state, int number)
{
    struct closer_look_screen *screen = state;
    struct place place = place_here(app, screen);
    int rest = undecided(&screen->look), left = places_left(&screen->look);
    struct err err;
    if (rest == 0) {
        app_say(app, "No fish is left to decide.");
        return;
    }
    screen->asking = !screen->asking;
    if (screen->asking && left > 0)
        app_say(app, "* again leaves the other %d, and %d place%s empty; any other key goes back.",
                rest, left, plural(left));
    else if (screen->asking)
        app_say(app, "* again leaves the other %d; any other key goes back.", rest);
    else if (closer_look_leave_rest(app->ledger, &screen->look, app->judge, &place, &err)) {
        int taken = screen->look.taken, all_left = screen->look.left;
        leave(app, state, 0);
        app_say(app, "The tie is decided: %d taken, %d not. Enter records the pass.", taken,
                all_left);
    } else {
        app_fail(app, &err);
    }
}

static void pick(struct app *app, void *state, int number)
{
    struct closer_look_screen *screen = state;
    struct place place = place_here(app, screen);
    struct err err;
    if (!closer_look_pick(app->ledger, &screen->look, app->judge, &place, &err))
        app_fail(app, &err);
}

static void put_back(struct app *app, void *state, int number)
{
    struct closer_look_screen *screen = state;
    struct place place = place_here(app, screen);
    struct err err;
    if (closer_look_put_back(app->ledger, &screen->look, app->judge, &place, &err))
        app_say(app, "One is put back into the hold basin.");
    else
        app_fail(app, &err);
}

static void stay(struct app *app, void *state, int number)
{
    struct closer_look_screen *screen = state;
    struct place place = place_here(app, screen);
    int fish;
    struct err err;
    if (!closer_look_stay(app->ledger, &screen->look, app->judge, &place, &fish, &err))
        app_fail(app, &err);
    else if (fish == 0)
        app_say(app, "No fish of the tie lies in the keep basin, or no place is left.");
    else if (fish > 0)
        app_say(app, "%d stay in the keep basin.", fish);
    else
        app_say(app, "Taken back: none of the tie stays in the keep basin unasked.");
}

static const struct key_row cell_rows[] = {
    {"+ Enter Space", "take", "take this fish: it is kept", .handler = decide,
     .number = VERDICT_KEEP},
    {"/ n", "leave it", "leave this fish: it is held", .handler = decide, .number = VERDICT_HOLD},
    {"- u", "undo", "undo the last fish, again and again", .handler = undo},
    {"6 Right l", "next", "the next fish, without deciding", .handler = step, .number = 1},
    {"4 Left h", "previous", "the previous fish, without deciding", .handler = step, .number = -1},
    {"* r", "leave the rest", "leave all that are not decided (press twice)",
     .handler = leave_rest},
    HELP_KEYS,
    {"q 0 Esc", "back", "back to the pass; what was decided stays", .handler = leave},
};

static const struct key_row basin_rows[] = {
    {"+ Enter Space", "picked", "one fish is picked out of the hold basin: it is kept",
     .handler = pick},
    {"- u", "put one back", "undo: one goes back into the hold basin", .handler = put_back},
    {"* s", "stay", "fish that tie in the keep basin stay there, or no longer", .handler = stay},
    HELP_KEYS,
    {"q 0 Esc", "back", "back to the pass; what was picked stays", .handler = leave},
};

const struct key_table closer_look_keys = KEY_TABLE("The closer look", cell_rows);
const struct key_table basin_look_keys = KEY_TABLE("The closer look at basins", basin_rows);

/* Where it was asked, any other key only takes the question back. */
static void press(struct app *app, void *state, struct key key)
{
    struct closer_look_screen *screen = state;
    int number;
    const struct key_row *row = keys_find(&closer_look_keys, key, &number);
    if (screen->asking && (row == NULL || row->handler != leave_rest)) {
        screen->asking = false;
        app_say(app, "No fish was left.");
        return;
    }
    app_dispatch(app, state, &closer_look_keys, key);
}

/* Somebody else may be at the same tie. */
static bool refresh(struct app *app, void *state, struct err *err)
{
    struct closer_look_screen *screen = state;
    const struct pass_fish *fish = in_front(screen);
    int64_t id = fish != NULL ? fish->id : 0;
    struct closer_look look;
    if (!closer_look_load(app->ledger, &screen->look.run, &look, err))
        return false;
    closer_look_done(&screen->look);
    screen->look = look;
    go_to_fish(screen, id);
    return true;
}

static void done(void *state)
{
    struct closer_look_screen *screen = state;
    closer_look_done(&screen->look);
    free(screen);
}

static const struct screen_kind in_cells = {.keys = &closer_look_keys,
                                            .refresh = refresh,
                                            .draw = draw_in_cells,
                                            .key = press,
                                            .done = done};
static const struct screen_kind in_basins = {
    .keys = &basin_look_keys, .refresh = refresh, .draw = draw_in_basins, .done = done};

/* Opening. */

/* What was decided can still be taken back when nothing is left to decide. */
static bool is_worth_it(const struct closer_look *look, struct err *err)
{
    char text[TIE_TEXT_SIZE];
    bool open;
    pass_run_open_text(&look->run, &open, text);
    return open || look->taken + look->left + picks_total(&look->run.picks) > 0 ||
           err_set(err, ERR_ABSENT, "%s",
                   look->run.places < 0 ? "No places are set, so no fish tie for the last ones."
                                        : "No fish tie for the last places.");
}

static bool start(struct app *app, const struct pass_run *tried, struct closer_look_screen *screen,
                  struct err *err)
{
    struct closer_look *look = &screen->look;
    if (!closer_look_load(app->ledger, tried, look, err))
        return false;
    go_to_undecided(screen);
    struct place here = place_here(app, screen);
    return is_worth_it(look, err) &&
           round_title(app->ledger, &look->run.round, "closer look", screen->title, err) &&
           place_save(app->ledger, &here, err);
}

void app_open_closer_look(struct app *app, const struct pass_run *tried)
{
    struct closer_look_screen *screen = alloc_zeroed(1, sizeof *screen);
    struct err err;
    if (start(app, tried, screen, &err)) {
        app_push(app, tried->round.waiting == WAITING_BASIN ? &in_basins : &in_cells, screen);
    } else {
        done(screen);
        app_fail(app, &err);
    }
}
