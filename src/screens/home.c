/* Seasons and spawnings, filled from the ledger. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/home_view.h"
#include "senbetsu/screens/round_lines.h"
#include "senbetsu/screens/round_place.h"
#include "senbetsu/screens/screens.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct home {
    struct home_view view;
    struct place place; /* where "go on" leads */
};

static void forget(struct home_view *view)
{
    for (size_t i = 0; i < view->spawning_count; i++)
        free(view->spawnings[i].rounds);
    free(view->spawnings);
    view->spawnings = NULL;
    view->spawning_count = 0;
}

/* "K26-1 harvest, bowl 3, fish 14". */
static bool describe_place(struct app *app, const struct place *place, char *ret_text, size_t size,
                           struct err *err)
{
    struct round round;
    struct bowl bowl;
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
        text_addf(&out, ", bowl %d, fish %d", bowl.number, place->number);
    text_copy(ret_text, size, out.data);
    text_done(&out);
    return known;
}

static bool fill_go_on(struct app *app, struct home *home, struct err *err)
{
    home->view.go_on[0] = '\0';
    if (!place_get(app->ledger, app->judge, &home->place, err))
        return err->code == ERR_ABSENT;
    return describe_place(app, &home->place, home->view.go_on, sizeof home->view.go_on, err);
}

static bool fill_spawnings(struct app *app, struct home_view *view, struct err *err)
{
    struct spawning *spawnings;
    size_t count;
    if (!spawning_list(app->ledger, &spawnings, &count, err))
        return false;
    view->spawnings = alloc_zeroed(count + 1, sizeof *view->spawnings);
    for (size_t i = 0; i < count; i++)
        home_spawning_fill(&view->spawnings[i], &spawnings[i]);
    view->spawning_count = count;
    free(spawnings);
    return true;
}

static void share_out(struct home_view *view, const struct round_summary *rounds, size_t count)
{
    for (size_t i = 0; i < view->spawning_count; i++)
        home_spawning_add_rounds(&view->spawnings[i], rounds, count);
}

/* The code of the spawning to have in front when the list is filled anew: one that was just added,
 * else the one that was in front; "" = stay on the line. */
static void wanted_in_front(struct app *app, const struct home_view *view, char ret_code[CODE_SIZE])
{
    size_t index = 0;
    text_copy(ret_code, CODE_SIZE, app->added);
    app->added[0] = '\0';
    if (ret_code[0] == '\0' && view->spawning_count > 0 &&
        home_front(view, &index) == HOME_ITEM_SPAWNING)
        text_copy(ret_code, CODE_SIZE, view->spawnings[index].code);
}

static void bring_to_front(struct home_view *view, const char *code)
{
    for (size_t i = 0; i < view->spawning_count; i++)
        if (strcmp(view->spawnings[i].code, code) == 0)
            list_to(&view->list, (int)i + (view->go_on[0] != '\0'));
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct home *home = state;
    struct home_view filled = {.list = home->view.list, .ledger = home->view.ledger};
    struct round_summary *rounds;
    size_t count;
    char wanted[CODE_SIZE];
    wanted_in_front(app, &home->view, wanted);
    if (!fill_go_on(app, home, err) || !round_list(app->ledger, NULL, &rounds, &count, err))
        return false;
    bool done = fill_spawnings(app, &filled, err);
    if (done) {
        share_out(&filled, rounds, count);
        memcpy(filled.go_on, home->view.go_on, sizeof filled.go_on);
        forget(&home->view);
        home->view = filled;
        home_ready(&home->view);
        bring_to_front(&home->view, wanted);
    }
    free(rounds);
    return done;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct home *home = state;
    home->view.judge = app->judge_name;
    home->view.message = app->message;
    home->view.alert = app->alert;
    home_draw(grid, &home->view);
}

static void choose(struct app *app, struct home *home)
{
    size_t index;
    switch (home_front(&home->view, &index)) {
    case HOME_ITEM_GO_ON:
        app_open_place(app, &home->place);
        break;
    case HOME_ITEM_SPAWNING:
        app_open_spawning(app, home->view.spawnings[index].code);
        break;
    case HOME_ITEM_ADD:
        app_ask_spawning(app, NULL);
        break;
    }
}

static void change(struct app *app, const struct home *home)
{
    size_t index;
    struct spawning spawning;
    struct err err;
    if (home_front(&home->view, &index) != HOME_ITEM_SPAWNING)
        app_say(app, "Go to the spawning that shall be changed first.");
    else if (spawning_get(app->ledger, home->view.spawnings[index].code, &spawning, &err))
        app_ask_spawning(app, &spawning);
    else
        app_fail(app, &err);
}

/* That of the spawning in front, else the latest. */
static void open_rates(struct app *app, const struct home *home)
{
    size_t index = 0;
    if (home->view.spawning_count == 0)
        app_say(app, "There is no spawning yet; add one first.");
    else if (home_front(&home->view, &index) == HOME_ITEM_SPAWNING)
        app_open_rates(app, home->view.spawnings[index].season);
    else
        app_open_rates(app, home->view.spawnings[0].season);
}

static void press(struct app *app, void *state, struct key key)
{
    struct home *home = state;
    int action = list_key(&home->view.list, CONTEXT_HOME, key);
    switch (action) {
    case LIST_CHOOSE:
        choose(app, home);
        break;
    case HOME_ADD:
        app_ask_spawning(app, NULL);
        break;
    case HOME_CHANGE:
        change(app, home);
        break;
    case HOME_JUDGE:
        app_ask_judge(app);
        break;
    case HOME_RATES:
        open_rates(app, home);
        break;
    case HOME_PAIRS:
        app_open_pairs(app);
        break;
    case HOME_SAMPLES:
        app_ask_samples(app, 0);
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void done(void *state)
{
    struct home *home = state;
    forget(&home->view);
    free(home);
}

static const struct screen_kind home_kind = {.refresh = refresh,
                                             .draw = draw,
                                             .key = press,
                                             .done = done,
                                             .all_bound = true,
                                             .context = CONTEXT_HOME};

void app_open_home(struct app *app)
{
    struct home *home = alloc_zeroed(1, sizeof *home);
    const char *path = ledger_path(app->ledger), *slash = strrchr(path, '/');
    home->view.ledger = slash != NULL ? slash + 1 : path;
    app_push(app, &home_kind, home);
}
