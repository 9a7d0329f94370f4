/* A pass being tried out. The run (report/pass.h) decides and ranks; here is what the screen needs
 * beside it: which fish change side, and how the dials move. */
#include "preview.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

enum { STEP = 50, FULL = 100 * 100 }; /* hundredths of a point */

static void count(struct preview *preview)
{
    const struct pass_run *run = &preview->run;
    preview->now = (struct verdict_counts){.expected = (int)run->count};
    preview->changed_count = 0;
    preview->first_out = run->count;
    for (size_t i = 0; i < run->count; i++) {
        uint32_t index = run->order[i];
        const struct decision *decision = &run->decisions[index];
        verdict_counts_add(&preview->now, decision->verdict);
        if (decision->verdict != preview->before_trial[index])
            preview->changed[preview->changed_count++] = index;
        if (decision->reason == REASON_PLACES && preview->first_out == run->count)
            preview->first_out = i;
    }
    verdict_counts_pick(&preview->now, picks_total(&run->picks));
}

void preview_init(struct preview *preview, const struct pass_run *run)
{
    *preview = (struct preview){.run = *run, .before.expected = (int)run->count};
    preview->before_trial = alloc_zeroed(run->count + 1, sizeof *preview->before_trial);
    preview->changed = alloc_zeroed(run->count + 1, sizeof *preview->changed);
    for (size_t i = 0; i < run->count; i++) {
        preview->before_trial[i] = run->fish[i].stands;
        verdict_counts_add(&preview->before, preview->before_trial[i]);
    }
    verdict_counts_pick(&preview->before, picks_total(&run->picks));
    count(preview);
}

static void free_lists(struct preview *preview)
{
    free(preview->before_trial);
    free(preview->changed);
}

void preview_done(struct preview *preview)
{
    pass_run_done(&preview->run);
    free_lists(preview);
}

bool preview_reload(struct preview *preview, struct ledger *ledger, struct err *err)
{
    if (!pass_run_reload(ledger, &preview->run, err))
        return false;
    struct pass_run run = preview->run;
    free_lists(preview);
    preview_init(preview, &run);
    return true;
}

static int within(int number, int lowest, int highest)
{
    return number < lowest ? lowest : number > highest ? highest : number;
}

void preview_turn(struct preview *preview, enum preview_dial dial, int steps)
{
    struct pass_run *run = &preview->run;
    struct standard *standard = &run->standard;
    switch (dial) {
    case DIAL_KEEP_AT:
        standard->keep_at = within(standard->keep_at + STEP * steps, 0, FULL);
        standard->hold_at = within(standard->hold_at, 0, standard->keep_at);
        break;
    case DIAL_HOLD_AT:
        standard->hold_at = within(standard->hold_at + STEP * steps, 0, standard->keep_at);
        break;
    case DIAL_PLACES:
        run->places = within(run->places + steps, NO_PLACES, (int)run->count);
        break;
    case DIAL_COUNT:
        break;
    }
    pass_run_decide(run);
    count(preview);
}

bool preview_moved(const struct preview *preview)
{
    const struct standard *from = &preview->run.version.standard, *to = &preview->run.standard;
    return to->keep_at != from->keep_at || to->hold_at != from->hold_at;
}
