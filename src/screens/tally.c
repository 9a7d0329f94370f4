/* The tally on the stack of screens: a pick or remove round out of the ledger, and its keys. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/screens/tally_port.h"
#include "senbetsu/screens/tally_screen.h"
#include "senbetsu/store/lot_books.h"
#include "senbetsu/ui/term.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

struct tally_state {
    struct tally_ledger port;
    struct tally_sheet sheet;
    struct tally_screen screen;
};

static void draw(struct app *app, void *state, struct grid *grid)
{
    (void)app;
    const struct tally_state *tally = state;
    tally_screen_draw(&tally->screen, grid);
}

static void leave(struct app *app, const struct tally_state *tally)
{
    struct err err;
    struct place place = tally_ledger_place(&tally->port, tally->sheet.scoops, false);
    bool kept = place_save(app->ledger, &place, &err);
    app_pop(app);
    if (!kept)
        app_fail(app, &err);
}

static void press(struct app *app, void *state, struct key key)
{
    struct tally_state *tally = state;
    struct tally_effects effects = tally_screen_key(&tally->screen, key);
    if (effects.alert)
        term_alert();
    if (effects.leave)
        leave(app, tally);
    else if (tally->screen.wanted == TALLY_FIRST_LOOK)
        app_open_first_look(app, tally->port.round_id);
    else if (tally->screen.wanted == TALLY_SAMPLES)
        app_ask_samples(app, tally->port.round_id);
}

/* After a screen over it, others' keys and the lot's number may be new. */
static bool refresh(struct app *app, void *state, struct err *err)
{
    (void)err;
    press(app, state, (struct key){.kind = KEY_NONE});
    return true;
}

static void done(void *state)
{
    struct tally_state *tally = state;
    tally_sheet_done(&tally->sheet);
    free(tally);
}

static const struct screen_kind tally_kind = {
    .refresh = refresh, .draw = draw, .key = press, .done = done};

/* A mixed lot has no spawning of its own to name. */
static bool fill_heading(struct app *app, const struct round *round, struct tally_heading *heading,
                         struct err *err)
{
    struct spawning spawning;
    text_copy(heading->spawning, sizeof heading->spawning, round->spawning);
    text_copy(heading->variety, sizeof heading->variety, round->variety);
    text_copy(heading->lot, sizeof heading->lot, round->own_lot ? "" : round->lot);
    text_copy(heading->judge, sizeof heading->judge, app->judge_name);
    heading->stage = round->stage;
    if (round->spawning[0] == '\0')
        return true;
    if (!spawning_get(app->ledger, round->spawning, &spawning, err))
        return false;
    pair_text(&spawning, heading->pair, sizeof heading->pair);
    return true;
}

/* The earliest culls have no standard: they are tallied without reasons. */
static bool find_standard(struct app *app, const struct round *round,
                          struct standard_version *version, const struct standard **ret,
                          struct err *err)
{
    *ret = &version->standard;
    if (round_standard(app->ledger, round, NULL, version, err))
        return true;
    *ret = NULL;
    return err->code == ERR_ABSENT;
}

/* What was stated of a round outranks its tally: whoever opens one that is done should know. */
static bool tell_what_was_stated(struct app *app, int64_t round_id, char ret[TALLY_NOTICE_SIZE],
                                 struct err *err)
{
    struct round_counts stated;
    if (!round_counts_get(app->ledger, round_id, &stated, err))
        return false;
    ret[0] = '\0';
    if (round_counts_whole(&stated))
        snprintf(ret, TALLY_NOTICE_SIZE,
                 "Done: %" PRId64 " kept was stated%s%s; keys here do not change that.",
                 stated.kept.number, stated.day[0] == '\0' ? "" : " on ", stated.day);
    return true;
}

static bool start(struct app *app, int64_t round_id, bool scoops, struct tally_state *tally,
                  struct err *err)
{
    struct round round;
    struct standard_version version;
    struct tally_setup setup = {.scoops = scoops, .clock = *ledger_clock(app->ledger)};
    tally->port = (struct tally_ledger){app->ledger, round_id, app->judge};
    setup.port = tally_ledger_functions(&tally->port);
    if (!round_get(app->ledger, round_id, &round, err) ||
        !tell_what_was_stated(app, round_id, setup.notice, err) ||
        !lot_book_before(app->ledger, round_id, &setup.by_book, err) ||
        !find_standard(app, &round, &version, &setup.standard, err) ||
        !fill_heading(app, &round, &setup.heading, err))
        return false;
    setup.manner = round.manner;
    return tally_sheet_init(&tally->sheet, &setup, err);
}

void app_open_tally(struct app *app, int64_t round_id, bool scoops)
{
    struct tally_state *tally = alloc_zeroed(1, sizeof *tally);
    struct err err;
    if (start(app, round_id, scoops, tally, &err)) {
        tally_screen_init(&tally->screen, &tally->sheet);
        app_push(app, &tally_kind, tally);
    } else {
        free(tally);
        app_fail(app, &err);
    }
}
