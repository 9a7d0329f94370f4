/* Seasons and their spawnings, each with its rounds: the first screen. Above them a line that goes
 * on where this judge was, below them one that adds a spawning, and others that lead to what
 * belongs to no season. The rounds of a spawning are read when it is first drawn: a farm has
 * thousands of them, and a screen shows five spawnings. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SEASON_COLUMN = 3, CODE_COLUMN = 9, DATE_COLUMN = 24, STAGE_COLUMN = 11 };

/* The rounds of one spawning; none before it is drawn. */
struct own_rounds {
    bool read;
    struct round_summary *rounds;
    size_t count;
    char *unread; /* why they could not be read; NULL = they could */
};

struct home {
    struct list list;
    struct place place;         /* where "go on" leads … */
    char go_on[NOTE_SIZE];      /* … "K26-1 harvest, bowl 3, fish 14"; "" = nowhere yet */
    struct spawning *spawnings; /* latest season first */
    size_t count;
    struct own_rounds *own; /* of each spawning */
    struct ledger *ledger;  /* where they are read */
    int64_t seen;           /* the moment all this is of (ledger_changed) */
};

/* What the lines of the list are. */
enum line {
    LINE_GO_ON,
    LINE_SPAWNING,
    LINE_ADD,
    LINE_PARENTS,
    LINE_VARIETIES,
    LINE_STATIONS,
    LINE_RECORDS,
    LINE_COUNT
};

static enum line line_at(const struct home *home, int item, size_t *ret_spawning)
{
    if (home->go_on[0] != '\0' && item-- == 0)
        return LINE_GO_ON;
    if ((size_t)item >= home->count)
        return LINE_ADD + (enum line)((size_t)item - home->count);
    *ret_spawning = (size_t)item;
    return LINE_SPAWNING;
}

/* The selected spawning, or NULL. */
static const struct spawning *selected(const struct home *home)
{
    size_t index = 0;
    return line_at(home, home->list.current, &index) == LINE_SPAWNING ? &home->spawnings[index]
                                                                      : NULL;
}

/* Filling. */

static void forget(struct home *home)
{
    for (size_t i = 0; i < home->count; i++) {
        free(home->own[i].rounds);
        free(home->own[i].unread);
    }
    free(home->spawnings);
    free(home->own);
}

/* "K26-1 harvest, bowl 3, fish 14". */
static bool describe_place(struct app *app, const struct place *place, char *ret_text, size_t size,
                           struct err *err)
{
    struct round round;
    struct bowl bowl;
    char bowl_called[BOWL_TITLE_SIZE];
    if (!round_get(app->ledger, place->round_id, &round, err))
        return false;
    struct text out;
    text_init(&out);
    text_addf(&out, "%s %s%s%s", round_whose(&round), stage_terms[round.stage].word,
              round.own_lot ? "" : " ", round.own_lot ? "" : round.lot);
    if (place->second_look)
        text_add(&out, ", second look");
    else if (round_place_is(place, AT_FIRST_LOOK))
        text_add(&out, ", first look");
    bool known = place->bowl_id == 0 || bowl_get(app->ledger, place->bowl_id, &bowl, err);
    if (known && place->bowl_id != 0)
        text_addf(&out, ", bowl %s, fish %d", bowl_title(&bowl, bowl_called), place->number);
    text_copy(ret_text, size, out.data);
    text_done(&out);
    return known;
}

static bool read_go_on(struct app *app, struct home *home, struct err *err)
{
    home->go_on[0] = '\0';
    if (!place_get(app->ledger, app->judge, &home->place, err))
        return err->code == ERR_ABSENT;
    return describe_place(app, &home->place, home->go_on, sizeof home->go_on, err);
}

/* The cursor stays on its spawning, or goes to the one that was just added. */
static bool refresh(struct app *app, void *state, struct err *err)
{
    struct home *home = state;
    struct home filled = {.list = home->list, .ledger = app->ledger};
    char code[CODE_SIZE] = "";
    if (home->count > 0 && selected(home) != NULL)
        text_copy(code, sizeof code, selected(home)->code);
    if (app->added[0] != '\0')
        text_copy(code, sizeof code, app->added);
    app->added[0] = '\0';
    bool changed;
    if (!ledger_changed(app->ledger, &filled.seen, &changed, err) ||
        !read_go_on(app, &filled, err) ||
        !spawning_list(app->ledger, &filled.spawnings, &filled.count, err))
        return false;
    int above = filled.go_on[0] != '\0';
    list_count(&filled.list, above + (int)filled.count + LINE_COUNT - LINE_ADD);
    filled.own = alloc_zeroed(filled.count + 1, sizeof *filled.own);
    for (size_t i = 0; i < filled.count; i++)
        if (strcmp(filled.spawnings[i].code, code) == 0)
            list_to(&filled.list, above + (int)i);
    forget(home);
    *home = filled;
    return true;
}

/* Those of its own lots; mixed ones belong to no spawning. What could not be read is tried again
 * when it is drawn again. */
static const struct own_rounds *rounds_of(const struct home *home, size_t index)
{
    struct own_rounds *own = &home->own[index];
    const char *code = home->spawnings[index].code;
    struct round_summary *rounds;
    size_t count;
    struct err err;
    if (own->read)
        return own;
    free(own->unread);
    own->unread = NULL;
    own->read = round_summary_list(home->ledger, code, &rounds, &count, &err);
    if (!own->read) {
        own->unread = alloc_text(err.text);
        return own;
    }
    for (size_t i = 0; i < count; i++)
        if (strcmp(rounds[i].round.spawning, code) == 0)
            rounds[own->count++] = rounds[i];
    own->rounds = rounds;
    return own;
}

/* Drawing. */

static void draw_heading(struct grid *grid, int row, const struct spawning *spawning)
{
    char pair[NOTE_SIZE];
    pair_text(spawning, pair, sizeof pair);
    const char *parts[] = {spawning->date, spawning->variety, pair};
    int column = DATE_COLUMN;
    grid_put(grid, row, CODE_COLUMN, DATE_COLUMN - CODE_COLUMN - 1, STYLE_STRONG, spawning->code);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        if (parts[i][0] != '\0')
            column += 2 + grid_put(grid, row, column, -1, STYLE_PLAIN, parts[i]);
}

/* A blank line between seasons, and the year at the first spawning of each. */
static void draw_spawning(struct grid *grid, struct rows *rows, const struct home *home,
                          size_t index, bool is_selected)
{
    const struct spawning *spawning = &home->spawnings[index];
    const struct own_rounds *own = rounds_of(home, index);
    char name[ROUND_TEXT_SIZE], sentence[ROUND_SENTENCE_SIZE];
    bool begins = index == 0 || spawning[-1].season != spawning->season;
    if (begins && index > 0)
        rows_next(rows);
    int row = rows_begin(rows, grid, is_selected);
    if (begins)
        grid_putf(grid, row, SEASON_COLUMN, 4, STYLE_TITLE, "%d", spawning->season);
    draw_heading(grid, row, spawning);
    for (size_t i = 0; i < own->count; i++) {
        const struct round_summary *round = &own->rounds[i];
        progress_draw(grid, rows_next(rows), STAGE_COLUMN, round_name(&round->round, name),
                      &round->tally);
        if (round_pass_outdated(round))
            grid_put(grid, rows_next(rows), STAGE_COLUMN + 2, -1, STYLE_STRONG,
                     round_pass_sentence(round, sentence));
    }
    if (own->unread != NULL)
        grid_put(grid, rows_next(rows), STAGE_COLUMN, -1, STYLE_ALERT, own->unread);
    else if (own->count == 0)
        grid_put(grid, rows_next(rows), STAGE_COLUMN, -1, STYLE_QUIET, "no round yet");
}

static void draw_line(struct grid *grid, struct rows *rows, bool is_selected, enum style style,
                      const char *name, const char *about)
{
    int row = rows_begin(rows, grid, is_selected);
    grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, name);
    grid_put(grid, row, CODE_COLUMN, -1, style, about);
}

static void draw_item_of_home(struct grid *grid, struct rows *rows, const void *model, int item,
                              bool is_selected)
{
    const struct home *home = model;
    size_t index = 0;
    switch (line_at(home, item, &index)) {
    case LINE_GO_ON:
        draw_line(grid, rows, is_selected, STYLE_STRONG, "go on", home->go_on);
        rows_next(rows);
        break;
    case LINE_SPAWNING:
        draw_spawning(grid, rows, home, index, is_selected);
        break;
    case LINE_ADD:
        if (home->count > 0)
            rows_next(rows);
        draw_line(grid, rows, is_selected, STYLE_PLAIN, "+", "add a spawning");
        break;
    case LINE_PARENTS:
        draw_line(grid, rows, is_selected, STYLE_PLAIN, "o", "parents: pedigree, state");
        break;
    case LINE_VARIETIES:
        draw_line(grid, rows, is_selected, STYLE_PLAIN, "v", "varieties");
        break;
    case LINE_RECORDS:
        draw_line(grid, rows, is_selected, STYLE_PLAIN, "e", "judges, and what is retired");
        break;
    case LINE_STATIONS:
        draw_line(grid, rows, is_selected, STYLE_PLAIN, "s",
                  "stations: join another ledger, what is to be decided");
        break;
    case LINE_COUNT:
        break;
    }
}

static void draw_first_steps(struct grid *grid, int row)
{
    static const char *const steps[] = {
        "This ledger is new. How to get to the first cull list:",
        "",
        "1  Add a spawning here; its dam and sires can be entered on the way.",
        "2  Open it and begin a round: which cull it is, and by which standard.",
        "3  Take the first bowl and judge fish by fish; every key is on disk at once.",
        "4  When all bowls are judged, run the pass and read the evening's list.",
    };
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++)
        grid_put(grid, row + (int)i, TEXT_COLUMN, -1, i == 0 ? STYLE_STRONG : STYLE_PLAIN,
                 steps[i]);
}

/* Rounds that are read only now are of the same moment as all else that is drawn. */
static void keep_up(struct app *app, struct home *home)
{
    bool changed;
    struct err err;
    int64_t seen = home->seen;
    if (!ledger_changed(app->ledger, &seen, &changed, &err) ||
        (changed && !refresh(app, home, &err)))
        app_fail(app, &err);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct home *home = state;
    keep_up(app, home);
    char beside[2 * NOTE_SIZE];
    const char *path = ledger_path(app->ledger), *slash = strrchr(path, '/');
    snprintf(beside, sizeof beside, "%s   judge: %s", slash != NULL ? slash + 1 : path,
             app->judge_name[0] != '\0' ? app->judge_name : "not said");
    struct body body = app_frame(app, grid, "senbetsu: seasons and spawnings", beside);
    list_draw(&home->list, grid, body, draw_item_of_home, home);
    if (home->count == 0)
        draw_first_steps(grid, body.top + 5);
}

/* Keys. */

static void choose(struct app *app, void *state, int number)
{
    const struct home *home = state;
    size_t index = 0;
    switch (line_at(home, home->list.current, &index)) {
    case LINE_GO_ON:
        app_open_place(app, &home->place);
        break;
    case LINE_SPAWNING:
        app_open_spawning(app, home->spawnings[index].code);
        break;
    case LINE_ADD:
        app_ask_spawning(app, NULL);
        break;
    case LINE_PARENTS:
        app_open_parents(app);
        break;
    case LINE_VARIETIES:
        app_open_varieties(app);
        break;
    case LINE_RECORDS:
        app_open_records(app);
        break;
    case LINE_STATIONS:
        app_open_stations(app);
        break;
    case LINE_COUNT:
        break;
    }
}

static void change(struct app *app, void *state, int number)
{
    const struct spawning *spawning = selected(state);
    if (spawning != NULL)
        app_ask_spawning(app, spawning);
    else
        app_say(app, "Select a spawning first; then change it.");
}

/* That of the selected spawning, else the latest. */
static void open_rates(struct app *app, void *state, int number)
{
    const struct home *home = state;
    const struct spawning *spawning = selected(home);
    if (spawning == NULL && home->count > 0)
        spawning = &home->spawnings[0];
    if (spawning != NULL)
        app_open_rates(app, spawning->season);
    else
        app_say(app, "There is no spawning yet; add one first.");
}

static void add(struct app *app, void *state, int number)
{
    app_ask_spawning(app, NULL);
}

static void ask_judge(struct app *app, void *state, int number)
{
    app_ask_judge(app);
}

static void open_pairs(struct app *app, void *state, int number)
{
    app_open_pairs(app);
}

static void count_fish(struct app *app, void *state, int number)
{
    app_ask_samples(app, 0);
}

static void open_calendar(struct app *app, void *state, int number)
{
    app_open_calendar(app);
}

static void open_record(struct app *app, void *state, int number)
{
    const struct spawning *spawning = selected(state);
    if (spawning != NULL)
        app_open_record(app, RECORD_SPAWNING, spawning->id);
    else
        app_open_records(app);
}

static void open_parents(struct app *app, void *state, int number)
{
    app_open_parents(app);
}

static void open_varieties(struct app *app, void *state, int number)
{
    app_open_varieties(app);
}

static void open_stations(struct app *app, void *state, int number)
{
    app_open_stations(app);
}

static const struct key_row rows[] = {
    {"Enter", "open", "open the selected spawning, or do what the line says", .handler = choose},
    {"+ n", "add", "add a spawning", .handler = add},
    {"* c", "change", "change the selected spawning", .handler = change},
    {"/ w", "who", "enter who judges", .handler = ask_judge},
    {"5 r", "rates", "the selected season, from the eggs to the fish kept", .handler = open_rates},
    {"4 x", "pairs", "pairs over the seasons, and untried crosses", .handler = open_pairs},
    {"- d", "today", "today's sheet and list, what is due, the season book",
     .handler = open_calendar},
    {"6 t", "count", "count fish by samples: weighed, displaced or scooped", .handler = count_fish},
    RECORD_KEYS("put the selected spawning right, or retire it; judges"),
    {"o", NULL, "the parents: pedigree, state", .handler = open_parents},
    {"v", NULL, "the list of varieties", .handler = open_varieties},
    {"s", NULL, "stations: join another ledger, decide between two", .handler = open_stations},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("leave", "leave the program"),
};

const struct key_table home_keys = KEY_TABLE("Seasons and spawnings", rows);

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind home_kind = {
    .keys = &home_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_home(struct app *app)
{
    app_push(app, &home_kind, alloc_zeroed(1, sizeof(struct home)));
}
