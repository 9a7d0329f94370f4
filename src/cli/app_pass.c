/* The pass on screen. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/cli/app_screens.h"
#include "senbetsu/cli/pass_run.h"
#include "senbetsu/cli/round_lines.h"
#include "senbetsu/ui/pass_view.h"

#include <stdio.h>
#include <stdlib.h>

struct pass_screen {
    struct pass_run run;
    struct pass_view view;
};

static struct trial_fish trial_fish_of(const struct pass_run *run, size_t index)
{
    const struct judgement *judgement = &run->judgements[index];
    struct decision standing = judgement_decide(&run->standard, judgement);
    struct trial_fish fish = {.bowl = run->fish[index].bowl,
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
    struct trial_fish *fish = alloc_zeroed(run->count + 1, sizeof *fish);
    for (size_t i = 0; i < run->count; i++)
        fish[i] = trial_fish_of(run, i);
    trial_init(&screen->view.trial, &run->standard, run->places, fish, run->count);
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
    const struct trial *trial = &screen->view.trial;
    struct pass_run *run = &screen->run;
    struct err err;
    run->standard.keep_at = trial->standard.keep_at;
    run->standard.hold_at = trial->standard.hold_at;
    run->places = trial->places;
    pass_run_decide(run);
    if (!pass_run_record(app->ledger, run, app->judge, &err)) {
        app_fail(app, &err);
        return;
    }
    int keep = trial->verdicts[VERDICT_KEEP], hold = trial->verdicts[VERDICT_HOLD],
        reject = trial->verdicts[VERDICT_REJECT];
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
    trial_done(&screen->view.trial);
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
