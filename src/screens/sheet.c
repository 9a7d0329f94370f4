/* The sheet on the stack of screens: a bowl or the held fish out of the ledger, its keys, and what
 * it asks for besides. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/screens/sheet_screen.h"
#include "senbetsu/ui/term.h"

#include <stdlib.h>

struct sheet_state {
    struct standard standard; /* the port's */
    struct ledger_port port;
    struct sheet sheet;
    struct sheet_screen screen;
};

/* What a sheet is made from; freed as soon as it is up. */
struct tray {
    struct round round;
    struct standard_version version;
    struct bowl bowl; /* id 0 in a second look */
    struct fish *fish;
    size_t fish_count;
    struct undoable *undoable;
    size_t undoable_count;
};

static void draw(struct app *app, void *state, struct grid *grid)
{
    (void)app;
    struct sheet_state *sheet = state;
    sheet_screen_draw(&sheet->screen, grid);
}

/* The place as the ledger should keep it when the sheet has been left by a key. */
static bool leave_place(struct app *app, const struct sheet_state *state, struct err *err)
{
    const struct sheet *sheet = &state->sheet;
    struct sheet_place at = sheet_place(sheet);
    struct place place = {.judge = state->port.judge,
                          .round_id = state->port.round_id,
                          .bowl_id = at.bowl_id,
                          .number = at.number,
                          .second_look = sheet->second_look};
    text_copy(place.aspect, sizeof place.aspect, at.aspect);
    return place_save(app->ledger, &place, err);
}

static void leave(struct app *app, const struct sheet_state *state)
{
    struct err err;
    bool kept = leave_place(app, state, &err);
    app_pop(app);
    if (!kept)
        app_fail(app, &err);
}

static void heed(struct app *app, struct sheet_state *state, struct sheet_effects effects)
{
    if (effects.alert)
        term_alert();
    if (effects.next_bowl) {
        int64_t round_id = state->port.round_id;
        app_pop(app);
        app_open_next_bowl(app, round_id, effects.expected);
    } else if (effects.leave) {
        leave(app, state);
    }
}

static void press(struct app *app, void *state, struct key key)
{
    struct sheet_state *sheet = state;
    heed(app, sheet, sheet_screen_key(&sheet->screen, key));
}

static void idle(struct app *app, void *state)
{
    press(app, state, (struct key){.kind = KEY_NONE});
}

static int wait_ms(const void *state)
{
    return sheet_screen_timeout(&((const struct sheet_state *)state)->screen);
}

static void done(void *state)
{
    struct sheet_state *sheet = state;
    sheet_done(&sheet->sheet);
    free(sheet);
}

static const struct screen_kind sheet_kind = {
    .draw = draw, .key = press, .wait_ms = wait_ms, .idle = idle, .done = done};

/* Reading the tray. */

static void tray_done(struct tray *tray)
{
    free(tray->fish);
    free(tray->undoable);
}

static bool tray_round(struct app *app, int64_t round_id, struct tray *tray, struct err *err)
{
    return round_get(app->ledger, round_id, &tray->round, err) &&
           round_standard(app->ledger, &tray->round, NULL, &tray->version, err);
}

static bool tray_of_bowl(struct app *app, int64_t bowl_id, struct tray *tray, struct err *err)
{
    return bowl_get(app->ledger, bowl_id, &tray->bowl, err) &&
           tray_round(app, tray->bowl.round_id, tray, err) &&
           fish_of_bowl(app->ledger, bowl_id, &tray->version.standard, &tray->fish,
                        &tray->fish_count, err) &&
           undoable_of(app->ledger, tray->round.id, bowl_id, &tray->undoable, &tray->undoable_count,
                       err);
}

static bool tray_of_held(struct app *app, int64_t round_id, struct tray *tray, struct err *err)
{
    if (!tray_round(app, round_id, tray, err) ||
        !fish_of_round(app->ledger, round_id, &tray->version.standard, &tray->fish,
                       &tray->fish_count, err) ||
        !undoable_of(app->ledger, round_id, 0, &tray->undoable, &tray->undoable_count, err))
        return false;
    tray->fish_count = second_look_pick(tray->fish, tray->fish_count, &tray->version.standard);
    return tray->fish_count > 0 ||
           err_set(err, ERR_ABSENT,
                   "No fish of this round is held, so there is none to look at "
                   "again.");
}

/* Setting the sheet up. */

static bool fill_heading(struct app *app, const struct round *round, struct sheet_heading *heading,
                         struct err *err)
{
    struct spawning spawning;
    bool mixed = round->spawning[0] == '\0'; /* it has no pair of its own to name */
    if (!mixed && !spawning_get(app->ledger, round->spawning, &spawning, err))
        return false;
    text_copy(heading->spawning, sizeof heading->spawning, round->spawning);
    text_copy(heading->variety, sizeof heading->variety, round->variety);
    text_copy(heading->lot, sizeof heading->lot, round->own_lot ? "" : round->lot);
    text_copy(heading->judge, sizeof heading->judge, app->judge_name);
    if (!mixed)
        pair_text(&spawning, heading->pair, sizeof heading->pair);
    heading->stage = round->stage;
    return true;
}

/* A round keeps the name of the standard by which its first fish was judged. */
static bool settle_standard(struct app *app, struct tray *tray, struct err *err)
{
    if (tray->round.standard[0] != '\0')
        return true;
    text_copy(tray->round.standard, sizeof tray->round.standard, tray->version.standard.name);
    return round_save(app->ledger, &tray->round, app->judge, err);
}

static struct sheet_place sheet_place_of(const struct place *at)
{
    struct sheet_place place = {0};
    if (at != NULL) {
        place.bowl_id = at->bowl_id;
        place.number = at->number;
        text_copy(place.aspect, sizeof place.aspect, at->aspect);
    }
    return place;
}

static bool start(struct app *app, struct tray *tray, const struct place *at,
                  struct sheet_state *state, struct err *err)
{
    bool second_look = tray->bowl.id == 0;
    state->standard = tray->version.standard;
    state->port = (struct ledger_port){app->ledger,    &state->standard, tray->version.id,
                                       tray->round.id, app->judge,       second_look};
    struct sheet_setup setup = {.standard = &state->standard,
                                .judge = app->judge,
                                .bowl_id = tray->bowl.id,
                                .bowl = tray->bowl.number,
                                .expected = tray->bowl.expected,
                                .second_look = second_look,
                                .fish = tray->fish,
                                .fish_count = tray->fish_count,
                                .undoable = tray->undoable,
                                .undoable_count = tray->undoable_count,
                                .place = sheet_place_of(at),
                                .port = ledger_port_functions(&state->port),
                                .clock = *ledger_clock(app->ledger)};
    return settle_standard(app, tray, err) &&
           fill_heading(app, &tray->round, &setup.heading, err) &&
           sheet_init(&state->sheet, &setup, err);
}

static void open_tray(struct app *app, struct tray *tray, const struct place *at)
{
    struct sheet_state *state = alloc_zeroed(1, sizeof *state);
    struct err err;
    if (start(app, tray, at, state, &err)) {
        sheet_screen_init(&state->screen, &state->sheet);
        app_push(app, &sheet_kind, state);
    } else {
        free(state);
        app_fail(app, &err);
    }
}

void app_open_sheet(struct app *app, int64_t bowl_id, const struct place *at)
{
    struct tray tray = {0};
    struct err err;
    if (tray_of_bowl(app, bowl_id, &tray, &err))
        open_tray(app, &tray, at);
    else
        app_fail(app, &err);
    tray_done(&tray);
}

void app_open_second_look(struct app *app, int64_t round_id, const struct place *at)
{
    struct tray tray = {0};
    struct err err;
    if (tray_of_held(app, round_id, &tray, &err))
        open_tray(app, &tray, at);
    else
        app_fail(app, &err);
    tray_done(&tray);
}
