/* The closer look at a tie. What decides stays with the pass: a fish that was taken is one kept by
 * hand, one that was left is held by hand, and picks only make the places fewer for which scores
 * are left to decide. So nothing here can differ from what the next pass says.
 *
 * Two sorters may be at the same tie. So the round is read anew in the transaction before a key is
 * written, and whether there is a place for the fish is asked of that. */
#include "senbetsu/report/closer_look.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>

/* No place, though a fish of the same score has one, or could have one. */
static bool contends(const struct pass_run *run, const struct decision *decision)
{
    if (decision->reason != REASON_PLACES)
        return false;
    if (run->tie.count > 0)
        return decision_ties(decision, &run->tie);
    for (size_t i = 0; i < run->by_hand_count; i++) {
        size_t fish = run->by_hand[i].fish;
        if (run->fish[fish].tie == VERDICT_KEEP && run->decisions[fish].score == decision->score)
            return true;
    }
    return false;
}

static int at_least_none(int fish)
{
    return fish > 0 ? fish : 0;
}

static void collect(struct closer_look *look)
{
    const struct pass_run *run = &look->run;
    int in_hold = 0, in_keep = 0;
    look->fish = alloc_zeroed(run->count + 1, sizeof *look->fish);
    for (size_t i = 0; i < run->count; i++) {
        const struct pass_fish *fish = &run->fish[i];
        const struct decision *decision = &run->decisions[i];
        enum verdict verdict = fish->tie;
        if (verdict != VERDICT_OPEN || contends(run, decision))
            look->fish[look->count++] = i;
        look->taken += verdict == VERDICT_KEEP;
        look->left += verdict == VERDICT_HOLD;
        in_keep += decision_ties(decision, &run->tie) && fish->sent == VERDICT_KEEP;
        in_hold += decision->verdict == VERDICT_HOLD && fish->sent != VERDICT_KEEP;
    }
    look->in_keep = at_least_none(in_keep - run->picks.stay);
    look->in_hold = at_least_none(in_hold - run->picks.from_hold);
}

bool closer_look_load(struct ledger *ledger, const struct pass_run *tried, struct closer_look *ret,
                      struct err *err)
{
    struct closer_look look = {.count = 0};
    if (!pass_run_again(ledger, tried, &look.run, err))
        return false;
    collect(&look);
    *ret = look;
    return true;
}

bool closer_look_fish(struct ledger *ledger, const struct closer_look *look, size_t at,
                      struct fish *ret, struct err *err)
{
    return fish_load(ledger, look->run.fish[look->fish[at]].id, &look->run.version.standard, ret,
                     err);
}

void closer_look_done(struct closer_look *look)
{
    pass_run_done(&look->run);
    free(look->fish);
    look->fish = NULL;
    look->count = 0;
}

enum verdict closer_look_verdict(const struct closer_look *look, size_t at)
{
    return look->run.fish[look->fish[at]].tie;
}

static void replace(struct closer_look *look, const struct closer_look *by)
{
    struct closer_look before = *look;
    *look = *by;
    closer_look_done(&before);
}

/* Begins a transaction with the round as it is now. */
static bool begin(struct ledger *ledger, struct closer_look *look, struct err *err)
{
    struct closer_look now;
    if (!transaction_begin(ledger, err))
        return false;
    if (!closer_look_load(ledger, &look->run, &now, err)) {
        transaction_rollback(ledger);
        return false;
    }
    replace(look, &now);
    return true;
}

/* Ends it: the round as it is with what was written, or nothing was. */
static bool finish(struct ledger *ledger, struct closer_look *look, bool written, struct err *err)
{
    struct closer_look after;
    if (!written || !closer_look_load(ledger, &look->run, &after, err)) {
        transaction_rollback(ledger);
        return false;
    }
    if (!transaction_commit(ledger, err)) {
        closer_look_done(&after);
        return false;
    }
    replace(look, &after);
    return true;
}

/* Cells. */

static struct stroke stroke_on(const struct ledger *ledger, const struct fish *fish, int64_t judge)
{
    return (struct stroke){.fish = fish->id,
                           .judge = judge,
                           .look = fish->look == 0 ? 1 : fish->look,
                           .at_ms = clock_now(ledger_clock(ledger))};
}

static bool write_verdict(struct ledger *ledger, const struct closer_look *look, size_t at,
                          enum verdict verdict, int64_t judge, const struct place *place,
                          struct err *err)
{
    const struct standard *standard = &look->run.version.standard;
    struct fish after;
    if (!closer_look_fish(ledger, look, at, &after, err))
        return false;
    struct stroke stroke = stroke_on(ledger, &after, judge);
    stroke.correction = after.closed_look == after.look;
    stroke.entry_count = 1;
    stroke.entries[0] = (struct entry){.kind = ENTRY_VERDICT, .number = (int)verdict};
    text_copy(stroke.entries[0].text, sizeof stroke.entries[0].text, TIE_REASON);
    fish_apply(&after, standard, stroke.look, stroke.at_ms, &stroke.entries[0]);
    struct cached_verdict cached = fish_cached_verdict(&after, standard);
    return stroke_record(ledger, &stroke, &cached, place, err);
}

/* The place of a fish in the look, or its count. */
static size_t find(const struct closer_look *look, int64_t fish)
{
    size_t at = 0;
    while (at < look->count && look->run.fish[look->fish[at]].id != fish)
        at++;
    return at;
}

static bool may_be(const struct closer_look *look, size_t at, enum verdict verdict, struct err *err)
{
    if (at == look->count)
        return err_set(err, ERR_INPUT, "This fish does not tie any more: it was judged meanwhile.");
    if (verdict != VERDICT_KEEP || closer_look_verdict(look, at) == VERDICT_KEEP ||
        look->run.tie.places_left > 0)
        return true;
    return err_set(err, ERR_INPUT, "No place is left; take a fish back first.");
}

bool closer_look_decide(struct ledger *ledger, struct closer_look *look, int64_t fish,
                        enum verdict verdict, int64_t judge, const struct place *place,
                        struct err *err)
{
    if (!begin(ledger, look, err))
        return false;
    size_t at = find(look, fish);
    return finish(ledger, look,
                  may_be(look, at, verdict, err) &&
                      write_verdict(ledger, look, at, verdict, judge, place, err),
                  err);
}

bool closer_look_leave_rest(struct ledger *ledger, struct closer_look *look, int64_t judge,
                            const struct place *place, struct err *err)
{
    bool written = true;
    if (!begin(ledger, look, err))
        return false;
    for (size_t i = 0; written && i < look->count; i++)
        if (closer_look_verdict(look, i) == VERDICT_OPEN)
            written = write_verdict(ledger, look, i, VERDICT_HOLD, judge, place, err);
    return finish(ledger, look, written, err);
}

/* The fish without one of its strokes: that is tried, the fish is read, and nothing stays. */
static bool load_without(struct ledger *ledger, const struct stroke *undo,
                         const struct standard *standard, struct fish *ret, struct err *err)
{
    struct stroke tried = *undo;
    bool read = transaction_begin(ledger, err) && stroke_record(ledger, &tried, NULL, NULL, err) &&
                fish_load(ledger, undo->fish, standard, ret, err);
    transaction_rollback(ledger);
    return read;
}

static bool write_undo(struct ledger *ledger, struct stroke *undo, const struct fish *after,
                       const struct standard *standard, const struct place *place, struct err *err)
{
    struct cached_verdict cached = fish_cached_verdict(after, standard);
    return stroke_record(ledger, undo, &cached, place, err);
}

bool closer_look_undo(struct ledger *ledger, struct closer_look *look, int64_t judge,
                      const struct place *place, int64_t *ret_fish, struct err *err)
{
    const struct standard *standard = &look->run.version.standard;
    struct undoable last;
    struct fish fish;
    if (!tie_undoable(ledger, look->run.round.id, &last, err) ||
        !fish_load(ledger, last.fish, standard, &fish, err))
        return false;
    struct stroke undo = stroke_on(ledger, &fish, judge);
    undo.undoes = last.stroke;
    if (!load_without(ledger, &undo, standard, &fish, err) || !transaction_begin(ledger, err) ||
        !finish(ledger, look, write_undo(ledger, &undo, &fish, standard, place, err), err))
        return false;
    *ret_fish = last.fish;
    return true;
}

/* Basins. */

static bool may_pick(const struct closer_look *look, struct err *err)
{
    if (look->run.tie.places_left <= 0)
        return err_set(err, ERR_INPUT, "No place is left; put a fish back first.");
    return look->in_hold > 0 || err_set(err, ERR_INPUT, "No other fish is held.");
}

bool closer_look_pick(struct ledger *ledger, struct closer_look *look, int64_t judge,
                      const struct place *place, struct err *err)
{
    static const struct tally_mark mark = {.kind = TALLY_KEEP};
    return begin(ledger, look, err) &&
           finish(ledger, look,
                  may_pick(look, err) &&
                      tally_record(ledger, look->run.round.id, judge, &mark, place, err),
                  err);
}

bool closer_look_put_back(struct ledger *ledger, struct closer_look *look, int64_t judge,
                          const struct place *place, struct err *err)
{
    return begin(ledger, look, err) &&
           finish(ledger, look, pick_undo(ledger, look->run.round.id, judge, "", place, err), err);
}

bool closer_look_stay(struct ledger *ledger, struct closer_look *look, int64_t judge,
                      const struct place *place, int *ret_fish, struct err *err)
{
    static const struct tally_mark stays = {.kind = TALLY_KEEP, .reason = TALLY_STAYS};
    bool written = true;
    if (!begin(ledger, look, err))
        return false;
    int64_t round = look->run.round.id;
    int back = look->run.picks.stay, places = look->run.tie.places_left;
    int stay = look->in_keep < places ? look->in_keep : at_least_none(places);
    for (int i = 0; written && i < back; i++)
        written = pick_undo(ledger, round, judge, TALLY_STAYS, place, err);
    for (int i = 0; written && back == 0 && i < stay; i++)
        written = tally_record(ledger, round, judge, &stays, place, err);
    if (!finish(ledger, look, written, err))
        return false;
    *ret_fish = back > 0 ? -back : stay;
    return true;
}
