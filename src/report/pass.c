/* A pass is decided in memory from what the ledger has, as often as thresholds and places are
 * moved, and written only when it is recorded: trying leaves no trace. The rules themselves are
 * core/judgement.h. */
#include "senbetsu/report/pass.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/core/progress.h"
#include "senbetsu/store/tallies.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool round_standard(struct ledger *ledger, const struct round *round, const char *name,
                    struct standard_version *ret, struct err *err)
{
    if (name == NULL || name[0] == '\0')
        name = round->standard;
    if (name[0] != '\0')
        return standard_named(ledger, name, ret, err);
    return standard_for(ledger, round->variety, round->stage, ret, err);
}

/* Scores on one scale mean nothing on another. */
static bool check_scale(struct ledger *ledger, const struct round *round,
                        const struct standard *standard, struct err *err)
{
    struct standard_version own;
    if (round->standard[0] == '\0' || strcmp(round->standard, standard->name) == 0)
        return true;
    if (!standard_named(ledger, round->standard, &own, err))
        return false;
    if (own.standard.lowest == standard->lowest && own.standard.highest == standard->highest)
        return true;
    return err_set(
        err, ERR_INPUT,
        "The round was judged by %s on the scale %d-%d; %s has the scale %d-%d and cannot "
        "decide it.",
        own.standard.name, own.standard.lowest, own.standard.highest, standard->name,
        standard->lowest, standard->highest);
}

/* What is kept of the fish as they are read. */
struct reading {
    struct pass_run *run;
    size_t fish, decisions, bowls, by_hand; /* for how many there is room */
    bool judged;                            /* what the ledger keeps ready is enough */
    fish_visitor *visit;                    /* NULL = nobody else wants to see them */
    void *context;
};

static enum verdict tie_verdict(const struct fish *fish)
{
    return strcmp(fish->hand_reason, TIE_REASON) == 0 ? fish->judgement.by_hand : VERDICT_OPEN;
}

static void keep_bowl(struct reading *reading, int64_t id, int number)
{
    struct pass_run *run = reading->run;
    if (run->bowl_count > 0 && run->bowls[run->bowl_count - 1].id == id)
        return;
    run->bowls = alloc_room(run->bowls, run->bowl_count, &reading->bowls, sizeof *run->bowls);
    run->bowls[run->bowl_count++] = (struct pass_bowl){id, number};
}

static void keep_by_hand(struct reading *reading, struct judgement deciding)
{
    struct pass_run *run = reading->run;
    run->by_hand =
        alloc_room(run->by_hand, run->by_hand_count, &reading->by_hand, sizeof *run->by_hand);
    struct by_hand *by_hand = &run->by_hand[run->by_hand_count++];
    deciding.by_hand = VERDICT_OPEN;
    by_hand->fish = run->count;
    by_hand->without = judgement_decide(&run->standard, &deciding);
    by_hand->reason[0] = '\0';
}

/* Which look decides hangs on floors and faults of the standard, never on its thresholds: so the
 * judgement is not needed any more once it is decided on. */
static void keep_judged(void *context, const struct judged_fish *fish)
{
    struct reading *reading = context;
    struct pass_run *run = reading->run;
    keep_bowl(reading, fish->bowl_id, fish->bowl);
    bool by_score = fish->score != NOT_SCORED;
    if (!by_score && fish->judgement.by_hand != VERDICT_OPEN)
        keep_by_hand(reading, fish->judgement);
    run->fish = alloc_room(run->fish, run->count, &reading->fish, sizeof *run->fish);
    run->decisions =
        alloc_room(run->decisions, run->count, &reading->decisions, sizeof *run->decisions);
    run->fish[run->count] = (struct pass_fish){.id = fish->id,
                                               .bowl = (unsigned)run->bowl_count - 1,
                                               .number = (unsigned)fish->number,
                                               .stands = fish->stands,
                                               .changed = fish->changed};
    run->decisions[run->count++] = by_score ? decision_of_score(&run->standard, fish->score)
                                            : judgement_decide(&run->standard, &fish->judgement);
}

static void keep_fish(void *context, const struct fish *fish)
{
    struct reading *reading = context;
    struct judged_fish judged = {
        fish->id,     fish->bowl_id, fish->bowl, fish->number,
        fish->stands, fish->changed, NOT_SCORED, fish_deciding(fish, &reading->run->standard)};
    keep_judged(context, &judged);
    reading->run->fish[reading->run->count - 1].sent = fish->sent;
    if (reading->visit != NULL)
        reading->visit(reading->context, fish);
}

/* Why, and whose it is: who did the last look that has a verdict by hand. */
static bool tell_by_hand(struct ledger *ledger, const struct pass_run *run, struct by_hand *by_hand,
                         struct err *err)
{
    struct look *looks;
    size_t count;
    struct fish fish;
    const char *name = "";
    if (!fish_load(ledger, run->fish[by_hand->fish].id, &run->standard, &fish, err) ||
        !looks_of_fish(ledger, &fish, &run->standard, &looks, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        if (!looks[i].checking && looks[i].summed.judgement.by_hand != VERDICT_OPEN)
            name = looks[i].judge_name;
    run->fish[by_hand->fish].tie = tie_verdict(&fish);
    text_copy(by_hand->reason, sizeof by_hand->reason, fish.hand_reason);
    size_t length = strlen(by_hand->reason);
    if (name[0] != '\0')
        snprintf(by_hand->reason + length, sizeof by_hand->reason - length, "%s(%s)",
                 length > 0 ? " " : "", name);
    free(looks);
    return true;
}

static bool tell_all_by_hand(struct ledger *ledger, struct pass_run *run, struct err *err)
{
    bool fine = true;
    for (size_t i = 0; fine && i < run->by_hand_count; i++)
        fine = tell_by_hand(ledger, run, &run->by_hand[i], err);
    return fine;
}

static bool read_run(struct ledger *ledger, struct reading *reading, struct err *err)
{
    struct pass_run *run = reading->run;
    int64_t round_id = run->round.id;
    bool changed;
    return ledger_changed(ledger, &run->seen, &changed, err) &&
           check_scale(ledger, &run->round, &run->standard, err) &&
           picks_get(ledger, round_id, &run->picks, err) &&
           (reading->judged
                ? judged_each_of_round(ledger, round_id, &run->standard, keep_judged, reading, err)
                : fish_each_of_round(ledger, round_id, &run->standard, keep_fish, reading, err)) &&
           tell_all_by_hand(ledger, run, err);
}

static bool load(struct ledger *ledger, const struct round *round,
                 const struct standard_version *version, struct reading reading,
                 struct pass_run *ret, struct err *err)
{
    struct pass_run run = {.round = *round,
                           .version = *version,
                           .standard = version->standard,
                           .places = round->places};
    reading.run = &run;
    ledger_read_begin(ledger);
    bool read = read_run(ledger, &reading, err);
    ledger_read_end(ledger);
    if (!read) {
        pass_run_done(&run);
        return false;
    }
    run.order = alloc_zeroed(run.count, sizeof *run.order);
    decisions_rank(run.decisions, run.count, run.order);
    pass_run_decide(&run);
    *ret = run;
    return true;
}

bool pass_run_load_with(struct ledger *ledger, const struct round *round,
                        const struct standard_version *version, fish_visitor *visit, void *context,
                        struct pass_run *ret, struct err *err)
{
    return load(ledger, round, version, (struct reading){.visit = visit, .context = context}, ret,
                err);
}

bool pass_run_load_version(struct ledger *ledger, const struct round *round,
                           const struct standard_version *version, struct pass_run *ret,
                           struct err *err)
{
    return pass_run_load_with(ledger, round, version, NULL, NULL, ret, err);
}

bool pass_run_load(struct ledger *ledger, const struct round *round, const char *standard,
                   struct pass_run *ret, struct err *err)
{
    struct standard_version version;
    if (!round_standard(ledger, round, standard, &version, err))
        return false;
    bool own = strcmp(round->standard, version.standard.name) == 0;
    return load(ledger, round, &version, (struct reading){.judged = own}, ret, err);
}

void pass_run_done(struct pass_run *run)
{
    free(run->bowls);
    free(run->fish);
    free(run->decisions);
    free(run->order);
    free(run->by_hand);
    run->bowls = NULL;
    run->fish = NULL;
    run->decisions = NULL;
    run->order = NULL;
    run->by_hand = NULL;
}

static int greater(int a, int b)
{
    return a > b ? a : b;
}

/* Fish that were left for a tie come before all that score less, should a place become free. */
static void hold_behind_left(struct pass_run *run)
{
    int64_t score = 0;
    for (size_t i = 0; i < run->by_hand_count; i++) {
        struct decision without = run->by_hand[i].without;
        decisions_by_score(&run->standard, &without, 1);
        if (run->fish[run->by_hand[i].fish].tie != VERDICT_HOLD || without.verdict != VERDICT_KEEP)
            continue;
        run->left++;
        score = without.score > score ? without.score : score;
    }
    if (run->left > 0)
        decisions_hold_behind(run->decisions, run->count, score);
}

/* A tie that was decided stands, also where a fish that was corrected since scores more: nobody but
 * who decided it can put one of its fish back. */
static int count_outscores(const struct pass_run *run)
{
    int64_t least = INT64_MAX;
    int count = 0;
    for (size_t i = 0; i < run->by_hand_count; i++) {
        size_t fish = run->by_hand[i].fish;
        if (run->fish[fish].tie == VERDICT_KEEP && run->decisions[fish].score < least)
            least = run->decisions[fish].score;
    }
    for (size_t i = 0; least != INT64_MAX && i < run->count; i++)
        count += run->decisions[i].reason == REASON_PLACES && run->decisions[i].score > least;
    return count;
}

void pass_run_decide(struct pass_run *run)
{
    int picked = picks_total(&run->picks);
    int places = run->places > picked ? run->places - picked : run->places < 0 ? run->places : 0;
    decisions_by_score(&run->standard, run->decisions, run->count);
    decisions_limit(run->decisions, run->order, run->count, places);
    run->left = 0;
    if (places >= 0)
        hold_behind_left(run);
    run->tie = decisions_tie(run->decisions, run->count, places);
    if (run->tie.count > 0) /* picked fish do not tie any more, as far as anybody can know */
        run->tie.count = greater(run->tie.count - picked, run->tie.places_left + 1);
    run->outscores = count_outscores(run);
}

/* Where fish wait in basins, whichever are held can be gone through again. */
static int held(const struct pass_run *run)
{
    struct verdict_counts counts = {0};
    for (size_t i = 0; i < run->count; i++)
        verdict_counts_add(&counts, run->decisions[i].verdict);
    verdict_counts_pick(&counts, picks_total(&run->picks));
    return counts.verdicts[VERDICT_HOLD];
}

const char *pass_run_open_text(const struct pass_run *run, bool *ret_open,
                               char ret_text[TIE_TEXT_SIZE])
{
    bool basins = run->round.waiting == WAITING_BASIN;
    int free = run->tie.places_left, fish = basins ? held(run) : run->left;
    *ret_open = free > 0 && fish > 0;
    if (tie_text(&run->standard, &run->tie, ret_text)[0] == '\0' && *ret_open)
        snprintf(ret_text, TIE_TEXT_SIZE, "%d place%s free, and %d fish %s", free,
                 free == 1 ? " is" : "s are", fish, basins ? "are held" : "tied for it");
    *ret_open = *ret_open || run->tie.count > 0 || run->outscores > 0;
    if (ret_text[0] == '\0' && run->outscores > 0)
        snprintf(ret_text, TIE_TEXT_SIZE, "%d held, with more points than one kept for a tie",
                 run->outscores);
    return ret_text;
}

static int by_fish(const void *key, const void *item)
{
    size_t fish = *(const size_t *)key, other = ((const struct by_hand *)item)->fish;
    return (fish > other) - (fish < other);
}

/* "by hand: too thin (Aiko)"; every other reason stands for itself. */
static void append_reason_by_hand(const struct pass_run *run, size_t index,
                                  char reason[REASON_SIZE])
{
    char whole[REASON_SIZE + sizeof run->by_hand->reason];
    const struct by_hand *by_hand =
        bsearch(&index, run->by_hand, run->by_hand_count, sizeof *by_hand, by_fish);
    if (by_hand == NULL || by_hand->reason[0] == '\0')
        return;
    snprintf(whole, sizeof whole, "%s%s%s", reason, by_hand->reason[0] == '(' ? " " : ": ",
             by_hand->reason);
    text_copy(reason, REASON_SIZE, whole);
}

void pass_run_row_filed(const struct pass_run *run, size_t index, struct fish_row *ret)
{
    const struct pass_fish *fish = &run->fish[index];
    const struct decision *decision = &run->decisions[index];
    ret->bowl_id = run->bowls[fish->bowl].id;
    ret->bowl = run->bowls[fish->bowl].number;
    ret->number = (int)fish->number;
    ret->verdict = decision->verdict;
    ret->sent = fish->sent;
    ret->rank = decision->rank;
    decision_score_text(&run->standard, decision, ret->score);
    decision_reason_code(&run->standard, decision, ret->reason);
    if (decision->reason == REASON_BY_HAND)
        append_reason_by_hand(run, index, ret->reason);
}

void pass_run_row(const struct pass_run *run, size_t index, struct fish_row *ret)
{
    const struct decision *decision = &run->decisions[index];
    pass_run_row_filed(run, index, ret);
    decision_reason_label(&run->standard, decision, ret->reason_label);
    if (decision_ties(decision, &run->tie))
        text_copy(ret->reason_label, sizeof ret->reason_label, "tie: no place for all");
    if (decision->reason == REASON_BY_HAND)
        append_reason_by_hand(run, index, ret->reason_label);
}

/* The reasons of a pass as they are collected. A reason that is not by hand is known by what it is,
 * without being written out. */
struct reasons {
    struct decision_reason *written;
    size_t count, capacity;
    struct known {
        struct decision decision; /* of the first fish that has it */
        bool ties;
        int index;
    } * known;
    size_t known_count, known_capacity;
};

static int add_reason(struct reasons *reasons, const struct pass_run *run, size_t fish)
{
    struct fish_row row;
    pass_run_row(run, fish, &row);
    for (size_t i = 0; i < reasons->count; i++)
        if (strcmp(reasons->written[i].label, row.reason_label) == 0 &&
            strcmp(reasons->written[i].code, row.reason) == 0)
            return (int)i;
    reasons->written =
        alloc_room(reasons->written, reasons->count, &reasons->capacity, sizeof *reasons->written);
    struct decision_reason *added = &reasons->written[reasons->count];
    text_copy(added->code, sizeof added->code, row.reason);
    text_copy(added->label, sizeof added->label, row.reason_label);
    return (int)reasons->count++;
}

static int reason_index(struct reasons *reasons, const struct pass_run *run, size_t fish)
{
    const struct decision *decision = &run->decisions[fish];
    bool ties = decision_ties(decision, &run->tie);
    if (decision->reason == REASON_BY_HAND)
        return add_reason(reasons, run, fish);
    for (size_t i = 0; i < reasons->known_count; i++) {
        const struct known *known = &reasons->known[i];
        if (known->decision.reason == decision->reason &&
            known->decision.which == decision->which &&
            known->decision.verdict == decision->verdict && known->ties == ties)
            return known->index;
    }
    int index = add_reason(reasons, run, fish);
    reasons->known = alloc_room(reasons->known, reasons->known_count, &reasons->known_capacity,
                                sizeof *reasons->known);
    reasons->known[reasons->known_count++] = (struct known){*decision, ties, index};
    return index;
}

static struct pass_decisions recorded_decisions(const struct pass_run *run)
{
    struct reasons reasons = {.count = 0};
    struct pass_decision *decided = alloc_zeroed(run->count, sizeof *decided);
    for (size_t i = 0; i < run->count; i++) {
        const struct decision *decision = &run->decisions[i];
        const struct pass_fish *fish = &run->fish[i];
        decided[i] =
            (struct pass_decision){.fish = fish->id,
                                   .stands = fish->stands == decision->verdict && !fish->changed,
                                   .verdict = decision->verdict,
                                   .score = decision->score,
                                   .rank = decision->rank,
                                   .reason = reason_index(&reasons, run, i)};
    }
    free(reasons.known);
    return (struct pass_decisions){reasons.written, reasons.count, decided, run->count};
}

/* Thresholds moved on the pass screen become the standard's next version. */
static bool save_standard(struct ledger *ledger, const struct pass_run *run,
                          struct standard_version *version, struct err *err)
{
    enum saved saved;
    if (standard_equal(&run->standard, &run->version.standard))
        return true;
    return standard_save(ledger, &run->standard, ORIGIN_PASS_SCREEN, version, &saved, err);
}

/* The first pass settles by which standard the round is judged, and places that were moved are the
 * round's from now on. */
static bool save_round(struct ledger *ledger, const struct pass_run *run, struct round *round,
                       int64_t judge, struct err *err)
{
    if (round->standard[0] != '\0' && round->places == run->places)
        return true;
    if (round->standard[0] == '\0')
        text_copy(round->standard, sizeof round->standard, run->standard.name);
    round->places = run->places;
    return round_save(ledger, round, judge, err);
}

static bool save_pass(struct ledger *ledger, const struct pass_run *run, int64_t version,
                      int64_t judge, struct err *err)
{
    struct pass pass = {.round_id = run->round.id,
                        .standard_version = version,
                        .places = run->places,
                        .unit = score_unit(&run->standard),
                        .judge = judge,
                        .at_ms = clock_now(ledger_clock(ledger))};
    struct pass_decisions recorded = recorded_decisions(run);
    bool saved = pass_record(ledger, &pass, &recorded, err);
    pass_decisions_done(&recorded);
    return saved;
}

bool pass_run_again(struct ledger *ledger, const struct pass_run *run, struct pass_run *ret,
                    struct err *err)
{
    struct round round;
    if (!round_get(ledger, run->round.id, &round, err) ||
        !pass_run_load_version(ledger, &round, &run->version, ret, err))
        return false;
    ret->standard = run->standard;
    ret->places = run->places;
    pass_run_decide(ret);
    return true;
}

bool pass_run_reload(struct ledger *ledger, struct pass_run *run, struct err *err)
{
    struct pass_run now;
    if (!pass_run_again(ledger, run, &now, err))
        return false;
    pass_run_done(run);
    *run = now;
    return true;
}

/* The same fish, of whom the same is decided for the same reason. */
static bool is_same(const struct pass_run *a, const struct pass_run *b)
{
    bool same = a->count == b->count;
    for (size_t i = 0; same && i < a->count; i++) {
        const struct decision *one = &a->decisions[i], *other = &b->decisions[i];
        same = a->fish[i].id == b->fish[i].id && one->verdict == other->verdict &&
               one->reason == other->reason && one->which == other->which &&
               one->scored == other->scored && one->score == other->score;
    }
    return same;
}

/* Takes over the round as it is now; it may be judged by another standard, or have other places. */
static bool settle(struct ledger *ledger, struct pass_run *run, bool *ret_same, struct err *err)
{
    struct pass_run now;
    if (!pass_run_again(ledger, run, &now, err))
        return false;
    *ret_same = is_same(run, &now);
    if (*ret_same) {
        run->round = now.round;
        run->seen = now.seen;
    }
    pass_run_done(&now);
    return true;
}

static bool save(struct ledger *ledger, struct pass_run *run, int64_t judge, struct err *err)
{
    struct standard_version version = run->version;
    struct round round = run->round;
    if (!save_standard(ledger, run, &version, err) ||
        !save_round(ledger, run, &round, judge, err) ||
        !save_pass(ledger, run, version.id, judge, err) || !transaction_commit(ledger, err))
        return false;
    run->version = version;
    run->round = round;
    return true;
}

/* While this writes nobody else can. Where nothing at all was written since the fish were read,
 * they are as they were decided; else they are read again. */
static bool save_if_same(struct ledger *ledger, struct pass_run *run, int64_t judge, bool *ret_same,
                         struct err *err)
{
    bool changed = false;
    int64_t seen = run->seen;
    return ledger_changed(ledger, &seen, &changed, err) &&
           (!changed || settle(ledger, run, ret_same, err)) &&
           (!*ret_same || save(ledger, run, judge, err));
}

bool pass_run_record(struct ledger *ledger, struct pass_run *run, int64_t judge, bool *ret_recorded,
                     struct err *err)
{
    bool same = true;
    if (run->count == 0)
        return err_set(err, ERR_INPUT,
                       "The fish of this round are not judged one by one, so there is no pass.");
    if (!transaction_begin(ledger, err))
        return false;
    bool done = save_if_same(ledger, run, judge, &same, err);
    if (!done || !same)
        transaction_rollback(ledger);
    if (done)
        *ret_recorded = same;
    return done;
}

/* The look that comes next for a fish: the one it is in, or the one after a finished one. */
static int next_look(const struct fish *fish)
{
    int next = fish->look + (fish->closed ? 1 : 0);
    return next < 2 ? 2 : next;
}

/* The lowest look that is still to come for a held fish, 0 = none is held. */
static int look_due(const struct fish *fish, size_t count)
{
    int due = 0;
    for (size_t i = 0; i < count; i++)
        if (fish[i].stands == VERDICT_HOLD && (due == 0 || next_look(&fish[i]) < due))
            due = next_look(&fish[i]);
    return due;
}

/* Fish that have had the look since are no longer held; what a pass has decided of them after it is
 * over and done. */
static bool had_look(const struct fish *fish, int due, bool passed)
{
    return fish->look >= due && (!passed || fish->changed);
}

size_t second_look_pick(struct fish *fish, size_t count, bool passed, int gone)
{
    int due = look_due(fish, count), lying_in_keep = 0, others = 0;
    size_t picked = 0;
    for (size_t i = 0; i < count; i++)
        if (fish[i].stands == VERDICT_HOLD)
            *(fish[i].sent == VERDICT_KEEP ? &lying_in_keep : &others) += 1;
    int staying = gone < lying_in_keep ? gone : lying_in_keep;
    lying_in_keep -= staying;
    others -= gone - staying;
    for (size_t i = 0; i < count && due > 0; i++) {
        int *waiting = fish[i].sent == VERDICT_KEEP ? &lying_in_keep : &others;
        if (fish[i].stands == VERDICT_HOLD ? (*waiting)-- > 0 : had_look(&fish[i], due, passed))
            fish[picked++] = fish[i];
    }
    return picked;
}
