/* A round and its bowls, filled from the ledger. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/round_lines.h"
#include "senbetsu/screens/round_place.h"
#include "senbetsu/screens/round_view.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>

struct round_screen {
    int64_t round_id;
    struct round_view view;
    int64_t *bowls; /* ids, as the view has them */
    bool shown;     /* the hand has been put on the first open bowl */
};

static void fill_bowls(struct round_screen *screen, const struct bowl *bowls, size_t count)
{
    free(screen->view.bowls);
    free(screen->bowls);
    screen->view.bowls = alloc_zeroed(count + 1, sizeof *screen->view.bowls);
    screen->bowls = alloc_zeroed(count + 1, sizeof *screen->bowls);
    screen->view.bowl_count = count;
    for (size_t i = 0; i < count; i++) {
        struct bowl_line *line = &screen->view.bowls[i];
        line->number = bowls[i].number;
        line->tally = bowls[i].tally;
        line->tally.expected = bowls[i].expected;
        text_copy(line->day, sizeof line->day, bowls[i].day);
        screen->bowls[i] = bowls[i].id;
    }
}

static bool is_shown(const struct round_screen *screen, int64_t bowl_id)
{
    for (size_t i = 0; i < screen->view.bowl_count; i++)
        if (screen->bowls[i] == bowl_id)
            return true;
    return false;
}

/* The number of the bowl that this judge has begun since the screen was last filled, or 0. */
static int begun_here(struct app *app, const struct round_screen *screen, const struct bowl *bowls,
                      size_t count)
{
    struct place place;
    struct err err;
    if (!place_get(app->ledger, app->judge, &place, &err) || is_shown(screen, place.bowl_id))
        return 0;
    for (size_t i = 0; i < count; i++)
        if (bowls[i].id == place.bowl_id)
            return bowls[i].number;
    return 0;
}

/* Fills the bowls anew and keeps what was in front there, for another sorter may have begun a bowl;
 * from the line that takes the next bowl the hand goes to the one that was taken. */
static void refill(struct app *app, struct round_screen *screen, const struct bowl *bowls,
                   size_t count, const struct round_summary *summary)
{
    size_t index = 0;
    enum round_item item = round_front(&screen->view, &index);
    int begun = begun_here(app, screen, bowls, count);
    int number = item == ROUND_ITEM_BOWL ? screen->view.bowls[index].number : begun;
    if (item == ROUND_ITEM_NEXT && begun != 0)
        item = ROUND_ITEM_BOWL;
    fill_bowls(screen, bowls, count);
    screen->view.round = round_line_of(summary);
    round_ready(&screen->view);
    if (!screen->shown)
        round_to_open(&screen->view);
    else
        round_to(&screen->view, item, number);
    screen->shown = true;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct round_screen *screen = state;
    struct round_summary summary;
    struct first_look look;
    struct bowl *bowls;
    size_t count;
    if (!first_look_get(app->ledger, screen->round_id, &look, err) ||
        !round_summary_get(app->ledger, screen->round_id, &summary, err) ||
        !bowl_list(app->ledger, screen->round_id, &bowls, &count, err))
        return false;
    refill(app, screen, bowls, count, &summary);
    first_look_text(&look, screen->view.round.first_look);
    free(bowls);
    text_copy(screen->view.spawning, sizeof screen->view.spawning, round_whose(&summary.round));
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct round_screen *screen = state;
    screen->view.judge = app->judge_name;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    round_draw(grid, &screen->view);
}

static void choose(struct app *app, const struct round_screen *screen)
{
    size_t index;
    switch (round_front(&screen->view, &index)) {
    case ROUND_ITEM_BOWL:
        app_open_sheet(app, screen->bowls[index], NULL);
        break;
    case ROUND_ITEM_NEXT:
        app_ask_bowl(app, screen->round_id);
        break;
    case ROUND_ITEM_SECOND_LOOK:
        app_open_second_look(app, screen->round_id, NULL);
        break;
    case ROUND_ITEM_FIRST_LOOK:
        app_open_first_look(app, screen->round_id);
        break;
    case ROUND_ITEM_SAMPLES:
        app_ask_samples(app, screen->round_id);
        break;
    }
}

static void count_fish(struct app *app, const struct round_screen *screen)
{
    size_t index;
    if (round_front(&screen->view, &index) == ROUND_ITEM_BOWL)
        app_ask_count(app, screen->bowls[index]);
    else
        app_say(app, "Go to the bowl whose fish are counted first.");
}

static void press(struct app *app, void *state, struct key key)
{
    struct round_screen *screen = state;
    int action = list_key(&screen->view.list, CONTEXT_ROUND, key);
    switch (action) {
    case LIST_CHOOSE:
        choose(app, screen);
        break;
    case ROUND_NEXT_BOWL:
        app_ask_bowl(app, screen->round_id);
        break;
    case ROUND_SECOND_LOOK:
        app_open_second_look(app, screen->round_id, NULL);
        break;
    case ROUND_CHANGE:
        app_ask_round(app, screen->round_id);
        break;
    case ROUND_COUNT:
        count_fish(app, screen);
        break;
    case ROUND_PASS:
        app_open_pass(app, screen->round_id);
        break;
    case ROUND_FIRST_LOOK:
        app_open_first_look(app, screen->round_id);
        break;
    case ROUND_SAMPLES:
        app_ask_samples(app, screen->round_id);
        break;
    case ROUND_LIST:
        app_open_list(app, screen->round_id);
        break;
    case ROUND_FATES:
        app_ask_fates(app, screen->round_id);
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void done(void *state)
{
    struct round_screen *screen = state;
    free(screen->view.bowls);
    free(screen->bowls);
    free(screen);
}

static const struct screen_kind round_kind = {.refresh = refresh,
                                              .draw = draw,
                                              .key = press,
                                              .done = done,
                                              .all_bound = true,
                                              .context = CONTEXT_ROUND};

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
    else if (place->second_look)
        app_open_second_look(app, round.id, place);
    else if (place->bowl_id != 0)
        app_open_sheet(app, place->bowl_id, place);
}
