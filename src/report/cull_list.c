/* Makes the evening's list. It shows what stands of each fish (docs/decisions/standing.md), as
 * every screen counts it; a fish judged since the latest pass is marked, so that nobody carries it
 * away by a verdict that no longer holds.
 *
 * All of it is made before anything is drawn: the printed list measures its rows first, to size its
 * columns and to keep together what belongs together, and needs the whole list for that. A number
 * that no fish of a bowl has is listed as not judged, so that the fish add up to those that were
 * put in. */
#include "senbetsu/report/cull_list.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/report/families.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Bowls come by number, and those of one number by id; fish likewise. */
static bool comes_first(const struct bowl *bowl, const struct fish_row *fish)
{
    return bowl->number != fish->bowl ? bowl->number < fish->bowl : bowl->id <= fish->bowl_id;
}

bool bowl_iterator_next(const struct cull_round *round, struct bowl_iterator *iterator,
                        struct bowl_fish *ret)
{
    bool has_bowl = iterator->bowl < round->bowl_count;
    bool has_fish = iterator->fish < round->fish_count;
    if (!has_bowl && !has_fish)
        return false;
    const struct bowl *bowl = has_bowl ? &round->bowls[iterator->bowl] : NULL;
    const struct fish_row *fish = has_fish ? &round->fish[iterator->fish] : NULL;
    bool named = has_bowl && (!has_fish || comes_first(bowl, fish));
    int64_t id = named ? bowl->id : fish->bowl_id;
    *ret = (struct bowl_fish){
        .number = named ? bowl->number : fish->bowl,
        .station = named ? bowl->station : "",
        .expected = named ? bowl->expected : 0,
        .fish = fish,
    };
    iterator->bowl += named;
    while (iterator->fish < round->fish_count && round->fish[iterator->fish].bowl == ret->number &&
           round->fish[iterator->fish].bowl_id == id) {
        iterator->fish++;
        ret->count++;
    }
    return true;
}

/* The number of the fish at `at`; past the last fish and past what was expected, the first number
 * that is not expected. */
static int bound(const struct bowl_fish *bowl, size_t at)
{
    int end = bowl->expected + 1;
    return at < bowl->count && bowl->fish[at].number < end ? bowl->fish[at].number : end;
}

bool bowl_gap_next(const struct bowl_fish *bowl, struct bowl_gap *gap)
{
    while (gap->at <= bowl->count) {
        size_t at = gap->at++;
        int first = at == 0 ? 1 : bowl->fish[at - 1].number + 1;
        int last = bound(bowl, at) - 1;
        if (first <= last) {
            gap->first = first;
            gap->last = last;
            return true;
        }
    }
    return false;
}

void cull_count_add(struct cull_count *count, const struct bowl_fish *bowl)
{
    for (size_t i = 0; i < bowl->count; i++)
        count->fish[bowl->fish[i].verdict]++;
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap);)
        count->unseen += gap.last - gap.first + 1;
}

struct cull_count cull_count_round(const struct cull_round *round)
{
    struct cull_count count = {0};
    struct bowl_iterator iterator = {0};
    for (struct bowl_fish bowl; bowl_iterator_next(round, &iterator, &bowl);)
        cull_count_add(&count, &bowl);
    int in_no_bowl = round->expected - (int)round->fish_count - count.unseen;
    count.unseen += in_no_bowl > 0 ? in_no_bowl : 0;
    int picked = picks_total(&round->picks), held = count.fish[VERDICT_HOLD];
    picked = picked < held ? picked : held;
    count.fish[VERDICT_HOLD] -= picked;
    count.fish[VERDICT_KEEP] += picked;
    return count;
}

static bool has_no_place(const struct fish_row *fish)
{
    return fish->verdict == VERDICT_HOLD && fish->rank > 0 && !fish->since_pass &&
           strcmp(fish->reason, "places") == 0;
}

bool cull_ties(const struct fish_row *fish, const struct cull_tie *tie)
{
    return has_no_place(fish) && fish->rank == tie->rank;
}

struct cull_tie cull_tie_of(const struct cull_round *round)
{
    struct cull_count count = cull_count_round(round);
    struct cull_tie tie = {.places = round->places - count.fish[VERDICT_KEEP]};
    if (*round->passed == '\0' || tie.places <= 0)
        return (struct cull_tie){0};
    for (size_t i = 0; i < round->fish_count; i++) {
        const struct fish_row *fish = &round->fish[i];
        if (has_no_place(fish) && (tie.rank == 0 || fish->rank < tie.rank))
            tie.rank = fish->rank;
    }
    for (size_t i = 0; i < round->fish_count; i++)
        tie.fish += cull_ties(&round->fish[i], &tie);
    tie.fish -= picks_total(&round->picks);
    return tie.fish > tie.places ? tie : (struct cull_tie){0};
}

int cull_not_judged(const struct cull_count *count)
{
    return count->fish[VERDICT_OPEN] + count->unseen;
}

/* "2026-11-05 16:20" */
static void add_instant(const struct ledger *ledger, int64_t ms, struct text *out)
{
    int offset = ledger_clock(ledger)->offset_minutes;
    char day[DATE_SIZE], time[TIME_OF_DAY_SIZE];
    date_of_instant(ms, offset, day);
    time_of_instant(ms, offset, time);
    text_addf(out, "%s %s", day, time);
}

/* "kikusui-harvest version 1: keep from 65, hold from 55" */
static void set_standard(const struct standard_version *version, struct cull_round *round)
{
    char keep[NUMBER_SIZE], hold[NUMBER_SIZE];
    number_from_hundredths(version->standard.keep_at, keep);
    number_from_hundredths(version->standard.hold_at, hold);
    snprintf(round->standard, sizeof round->standard, "%s version %d: keep from %s, hold from %s",
             version->standard.name, version->version, keep, hold);
}

/* The latest pass and the version it decided by. */
static bool take_pass(struct ledger *ledger, struct cull_round *round, int64_t round_id,
                      struct pass *ret, struct err *err)
{
    struct standard_version version;
    struct text instant;
    if (!pass_latest(ledger, round_id, ret, err) ||
        !standard_version_get(ledger, ret->standard_version, &version, err))
        return false;
    text_init(&instant);
    add_instant(ledger, ret->at_ms, &instant);
    text_copy(round->passed, sizeof round->passed, instant.data);
    text_done(&instant);
    round->places = ret->places;
    set_standard(&version, round);
    return true;
}

static bool take_judges(struct ledger *ledger, int64_t round_id, struct cull_round *ret,
                        struct err *err)
{
    struct judge *judges;
    struct text names;
    size_t count;
    if (!judges_of_round(ledger, round_id, &judges, &count, err))
        return false;
    text_init(&names);
    for (size_t i = 0; i < count; i++) {
        bool fits = names.length + sizeof judges[i].name < sizeof ret->judges;
        text_addf(&names, "%s%s", i > 0 ? ", " : "", fits ? judges[i].name : "…");
        if (!fits)
            break;
    }
    text_copy(ret->judges, sizeof ret->judges, names.data);
    text_done(&names);
    free(judges);
    return true;
}

/* What of it stands in the round's summary. */
static void take_summary(const struct round_summary *summary, struct cull_round *ret)
{
    text_copy(ret->first_day, sizeof ret->first_day, summary->first_day);
    text_copy(ret->last_day, sizeof ret->last_day, summary->last_day);
    round_pass_changes(summary, ret->outdated);
    round_not_done(summary, ret->not_done);
}

/* The rows of a round's fish as it is read. */
struct reading {
    struct cull_round *round;
    size_t capacity;
};

static void begin_row(void *context, const struct fish *fish)
{
    struct reading *reading = context;
    struct cull_round *round = reading->round;
    round->fish =
        alloc_room(round->fish, round->fish_count, &reading->capacity, sizeof *round->fish);
    struct fish_row *row = &round->fish[round->fish_count++];
    row->length_mm = fish->length_mm;
    text_copy(row->tag, sizeof row->tag, fish->tag);
    text_copy(row->note, sizeof row->note, fish->note);
}

/* The round's fish as they are judged now, without regard to places; `brief`: without what is known
 * of a fish beyond its judgement, so that nobody looks at their strokes. */
static bool load_run(struct ledger *ledger, const struct round *round, bool brief,
                     struct cull_round *listed, struct pass_run *ret, struct err *err)
{
    struct round unlimited = *round;
    struct standard_version version;
    struct reading reading = {.round = listed};
    unlimited.places = -1;
    if (!brief)
        return round_standard(ledger, round, NULL, &version, err) &&
               pass_run_load_with(ledger, &unlimited, &version, begin_row, &reading, ret, err);
    if (!pass_run_load(ledger, &unlimited, NULL, ret, err))
        return false;
    listed->fish_count = ret->count;
    listed->fish = alloc_zeroed(ret->count, sizeof *listed->fish);
    return true;
}

/* What the pass decided, for as long as it stands. */
static void take_decision(struct fish_row *row, const struct pass_decisions *decisions, size_t at,
                          int64_t unit)
{
    const struct pass_decision *decision = &decisions->fish[at];
    const struct decision_reason *reason = &decisions->reasons[decision->reason];
    text_copy(row->reason, sizeof row->reason, reason->code);
    text_copy(row->reason_label, sizeof row->reason_label, reason->label);
    row->rank = decision->rank;
    row->score[0] = '\0';
    if (decision->rank != 0)
        number_to_tenth(decision->score, unit, row->score);
}

/* What stands of each fish, with its reason; fish and decisions are both in order of bowl and
 * number. */
static void fill_rows(const struct pass_run *run, const struct pass_decisions *decisions,
                      int64_t unit, struct fish_row *rows)
{
    for (size_t i = 0, next = 0; i < run->count; i++) {
        const struct pass_fish *fish = &run->fish[i];
        struct fish_row *row = &rows[i];
        bool in_pass = next < decisions->count && decisions->fish[next].fish == fish->id;
        pass_run_row(run, i, row);
        if (row->verdict == VERDICT_KEEP && fish->stands == VERDICT_HOLD) {
            struct decision no_place = {.reason = REASON_PLACES, .which = -1};
            decision_reason_code(&run->standard, &no_place, row->reason);
            decision_reason_label(&run->standard, &no_place, row->reason_label);
        }
        row->verdict = fish->stands;
        row->since_pass = fish->changed;
        if (in_pass && !fish->changed)
            take_decision(row, decisions, next, unit);
        next += in_pass;
    }
}

static bool make_rows(struct ledger *ledger, const struct pass *pass, const struct pass_run *run,
                      struct fish_row *rows, struct err *err)
{
    struct pass_decisions decisions = {.count = 0};
    if (pass->id != 0 && !pass_decisions_get(ledger, pass->id, &decisions, err))
        return false;
    fill_rows(run, &decisions, pass->unit, rows);
    pass_decisions_done(&decisions);
    return true;
}

bool reject_reasons_make(struct ledger *ledger, const struct round *round,
                         const struct tally_totals *totals, struct reject_reason **ret,
                         size_t *ret_count, struct err *err)
{
    struct standard_version version;
    bool known = round_standard(ledger, round, NULL, &version, err);
    if (!known && err->code != ERR_ABSENT)
        return false;
    *ret = alloc_zeroed((size_t)totals->reason_count, sizeof **ret);
    *ret_count = (size_t)totals->reason_count;
    for (int i = 0; i < totals->reason_count; i++) {
        const char *code = totals->reasons[i].code;
        int fault = known ? standard_fault(&version.standard, code) : -1;
        text_copy((*ret)[i].label, sizeof(*ret)[i].label,
                  fault >= 0        ? version.standard.faults[fault].label
                  : code[0] == '\0' ? "no reason"
                                    : code);
        (*ret)[i].fish = totals->reasons[i].count.number;
    }
    return true;
}

/* Does the number of rejects rest on scoops or weights? */
static bool is_estimate(const struct round_counts *known, const struct round_counts *stated,
                        const struct tally_totals *totals)
{
    if (stated->rejected != NOT_COUNTED)
        return false;
    if (known->rejected != NOT_COUNTED)
        return totals->rejected.method > METHOD_COUNTED;
    return known->in.method > METHOD_COUNTED || known->kept.method > METHOD_COUNTED;
}

/* What is tallied in a round judged fish by fish are picks of a closer look, which `picks` has. */
static bool take_numbers(struct ledger *ledger, const struct round *round, struct cull_round *ret,
                         struct err *err)
{
    struct round_counts stated;
    struct tally_totals totals = tally_totals_of(NULL, 0);
    if (!round_counts_get(ledger, round->id, &stated, err) ||
        (round->manner != MANNER_JUDGE && !tally_totals(ledger, round->id, &totals, err)) ||
        !reject_reasons_make(ledger, round, &totals, &ret->reasons, &ret->reason_count, err))
        return false;
    struct round_counts known = tally_counts(&totals, &stated);
    ret->rejected = round_counts_rejected(&known);
    ret->stated = ret->rejected != NOT_COUNTED;
    ret->estimated = is_estimate(&known, &stated, &totals);
    return true;
}

void cull_round_done(struct cull_round *round)
{
    free(round->bowls);
    free(round->reasons);
    free(round->fish);
}

static int expected_fish(const struct round *round)
{
    return round->manner == MANNER_JUDGE ? round->expected : 0;
}

/* Numbers up to what a bowl expects that none of its fish bears; they begin at `*at`. */
static int unseen_in_bowl(const struct pass_run *run, const struct bowl *bowl, size_t *at)
{
    int unseen = bowl->expected, number = 0;
    for (; *at < run->count && run->bowls[run->fish[*at].bowl].id == bowl->id; ++*at) {
        bool another = (int)run->fish[*at].number != number;
        number = (int)run->fish[*at].number;
        unseen -= another && number <= bowl->expected;
    }
    return unseen;
}

bool cull_list_unseen(struct ledger *ledger, const struct pass_run *run, int *ret, struct err *err)
{
    struct bowl *bowls;
    size_t count, at = 0;
    int unseen = 0;
    if (!bowl_list(ledger, run->round.id, &bowls, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        unseen += unseen_in_bowl(run, &bowls[i], &at);
    free(bowls);
    int in_no_bowl = expected_fish(&run->round) - (int)run->count - unseen;
    *ret = unseen + (in_no_bowl > 0 ? in_no_bowl : 0);
    return true;
}

/* What closer looks have picked, and whether the places of the latest pass still leave something to
 * one. Before the first pass nobody has asked. */
static void take_closer_look(struct pass_run *run, bool passed, struct cull_round *ret)
{
    bool open;
    ret->picks = picks_standing(&run->picks, passed);
    if (!passed)
        return;
    run->places = ret->places;
    pass_run_decide(run);
    pass_run_open_text(run, &open, ret->left_open);
}

/* What was allocated stays in `ret` also on failure. */
static bool make_round(struct ledger *ledger, const struct round *round, bool brief,
                       struct cull_round *ret, struct err *err)
{
    struct round_summary summary;
    struct pass_run run;
    struct pass pass = {.id = 0};
    *ret = (struct cull_round){.stage = round->stage,
                               .waiting = round->waiting,
                               .expected = expected_fish(round),
                               .fate = round->fate};
    if (!round_summary_get(ledger, round->id, &summary, err) ||
        !load_run(ledger, round, brief, ret, &run, err))
        return false;
    text_copy(ret->spawning, sizeof ret->spawning, round->spawning);
    text_copy(ret->variety, sizeof ret->variety, round->variety);
    text_copy(ret->lot, sizeof ret->lot, round->lot);
    ret->places = round->places;
    set_standard(&run.version, ret);
    take_summary(&summary, ret);
    bool made = (summary.pass.id == 0 || take_pass(ledger, ret, round->id, &pass, err)) &&
                make_rows(ledger, &pass, &run, ret->fish, err) &&
                bowl_list(ledger, round->id, &ret->bowls, &ret->bowl_count, err) &&
                take_numbers(ledger, round, ret, err) &&
                (brief || take_judges(ledger, round->id, ret, err)) &&
                reject_fates_get(ledger, round->id, &ret->fates, err);
    take_closer_look(&run, summary.pass.id != 0, ret);
    pass_run_done(&run);
    return made;
}

bool cull_round_make(struct ledger *ledger, const struct round *round, struct cull_round *ret,
                     struct err *err)
{
    struct cull_round made;
    if (make_round(ledger, round, true, &made, err)) {
        *ret = made;
        return true;
    }
    cull_round_done(&made);
    return false;
}

static bool make_list(struct ledger *ledger, const struct round *const *rounds, size_t count,
                      const char *title, struct cull_list *ret, struct err *err)
{
    struct cull_list list = {.rounds = alloc_zeroed(count, sizeof *list.rounds),
                             .round_count = count};
    struct text printed;
    text_copy(list.title, sizeof list.title, title);
    text_init(&printed);
    add_instant(ledger, clock_now(ledger_clock(ledger)), &printed);
    text_copy(list.printed, sizeof list.printed, printed.data);
    text_done(&printed);
    bool made = true;
    for (size_t i = 0; made && i < count; i++)
        made = make_round(ledger, rounds[i], false, &list.rounds[i], err) &&
               lot_pond(ledger, rounds[i]->lot_id, list.rounds[i].pond, err);
    if (made)
        *ret = list;
    else
        cull_list_done(&list);
    return made;
}

bool cull_list_of_round(struct ledger *ledger, const struct round *round, struct cull_list *ret,
                        struct err *err)
{
    struct text title;
    text_init(&title);
    text_addf(&title, "%s, %s", round_whose(round), stage_terms[round->stage].word);
    if (!round->own_lot)
        text_addf(&title, ", lot %s", round->lot);
    bool made = make_list(ledger, &round, 1, title.data, ret, err);
    text_done(&title);
    return made;
}

bool cull_list_of_day(struct ledger *ledger, const char *day, struct cull_list *ret,
                      struct err *err)
{
    struct round *of_day;
    size_t count;
    if (!round_list_of_day(ledger, day, &of_day, &count, err))
        return false;
    const struct round **rounds = alloc_zeroed(count, sizeof(const struct round *));
    for (size_t i = 0; i < count; i++)
        rounds[i] = &of_day[i];
    bool made = count == 0 ? err_set(err, ERR_ABSENT, "Nothing was judged on %s.", day)
                           : make_list(ledger, rounds, count, day, ret, err);
    free(rounds);
    free(of_day);
    return made;
}

void cull_list_done(struct cull_list *list)
{
    for (size_t i = 0; i < list->round_count; i++)
        cull_round_done(&list->rounds[i]);
    free(list->rounds);
    *list = (struct cull_list){.rounds = NULL};
}
