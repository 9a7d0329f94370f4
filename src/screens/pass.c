/* The pass on screen. */
#include "senbetsu/report/pass.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/screens/pass_view.h"
#include "senbetsu/screens/round_lines.h"
#include "senbetsu/screens/screens.h"

#include <stdio.h>
#include <stdlib.h>

struct pass_screen {
    struct pass_run run;
    struct pass_view view;
};

static struct preview_fish preview_fish_of(const struct pass_run *run, size_t index)
{
    const struct judgement *judgement = &run->judgements[index];
    struct decision standing = judgement_decide(&run->standard, judgement);
    struct preview_fish fish = {.bowl = run->fish[index].bowl,
                                .number = run->fish[index].number,
                                .judgement = *judgement,
                                .standing = standing.verdict};
    struct fish_row row;
    if (standing.reason == REASON_BY_HAND) {
        pass_run_row(run, index, &row);
        text_copy(fish.by_hand, sizeof fish.by_hand, row.reason_label);
    }
    return fish;
}

static void begin_trial(struct pass_screen *screen)
{
    const struct pass_run *run = &screen->run;
    struct preview_fish *fish = alloc_zeroed(run->count + 1, sizeof *fish);
    for (size_t i = 0; i < run->count; i++)
        fish[i] = preview_fish_of(run, i);
    preview_init(&screen->view.preview, &run->standard, run->places, fish, run->count);
    free(fish);
    snprintf(screen->view.title, sizeof screen->view.title, "%s: pass of the %s cull",
             round_whose(&run->round), stage_terms[run->round.stage].word);
    snprintf(screen->view.beside, sizeof screen->view.beside, "%s version %d",
             run->version.standard.name, run->version.version);
    pass_ready(&screen->view);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pass_screen *screen = state;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    pass_draw(grid, &screen->view);
}

static void record(struct app *app, struct pass_screen *screen)
{
    const struct preview *preview = &screen->view.preview;
    struct pass_run *run = &screen->run;
    struct err err;
    run->standard.keep_at = preview->standard.keep_at;
    run->standard.hold_at = preview->standard.hold_at;
    run->places = preview->places;
    pass_run_decide(run);
    if (!pass_run_record(app->ledger, run, app->judge, &err)) {
        app_fail(app, &err);
        return;
    }
    int keep = preview->verdicts[VERDICT_KEEP], hold = preview->verdicts[VERDICT_HOLD],
        reject = preview->verdicts[VERDICT_REJECT];
    app_pop(app);
    app_say(app, "The pass is recorded: %d keep, %d hold, %d reject.", keep, hold, reject);
}

static void press(struct app *app, void *state, struct key key)
{
    struct pass_screen *screen = state;
    bool asked = screen->view.asking;
    int action = pass_key(&screen->view, key);
    if (asked && action == LIST_NOTHING)
        app_say(app, "Nothing was recorded.");
    switch (action) {
    case PASS_RECORD:
        record(app, screen);
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void idle(struct app *app, void *state)
{
    (void)app;
    (void)state;
}

static void done(void *state)
{
    struct pass_screen *screen = state;
    preview_done(&screen->view.preview);
    pass_run_done(&screen->run);
    free(screen);
}

/* What is being tried out is not read anew while it is on the screen. */
static const struct screen_kind pass_kind = {.draw = draw,
                                             .key = press,
                                             .idle = idle,
                                             .done = done,
                                             .all_bound = true,
                                             .context = CONTEXT_PASS};

void app_open_pass(struct app *app, int64_t round_id)
{
    struct pass_screen *screen = alloc_zeroed(1, sizeof *screen);
    struct round round;
    struct err err;
    if (round_get(app->ledger, round_id, &round, &err) &&
        pass_run_load(app->ledger, &round, NULL, &screen->run, &err)) {
        begin_trial(screen);
        app_push(app, &pass_kind, screen);
    } else {
        free(screen);
        app_fail(app, &err);
    }
}
