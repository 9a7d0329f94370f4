/* How far rounds are, and their numbers: what was stated, else what the fish judged one by one or
 * the tally say. Summaries are read round by round from the counters the ledger keeps. For the
 * figures all rounds are read at once, each kind of record in order of the round: a ledger of
 * twenty seasons has thousands, and a query for each would be slow. */
#include "senbetsu/report/rounds.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>

bool round_counts_known(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                        struct err *err)
{
    struct round_counts stated;
    struct tally_totals totals;
    if (!round_counts_get(ledger, round_id, &stated, err) ||
        !tally_totals(ledger, round_id, &totals, err))
        return false;
    *ret = tally_counts(&totals, &stated);
    return true;
}

bool round_rejected(struct ledger *ledger, int64_t round_id, int64_t *ret, struct err *err)
{
    struct round_counts known;
    struct round_counters counters;
    if (!round_counts_known(ledger, round_id, &known, err) ||
        !round_counters_get(ledger, round_id, &counters, err))
        return false;
    bool in_hands = known.rejected == NOT_COUNTED && counters.tally.judged > 0;
    *ret = in_hands ? counters.tally.verdicts[VERDICT_REJECT] : round_counts_rejected(&known);
    return true;
}

/* A round whose fish were not judged one by one: its numbers are those tallied or stated. */
static bool summarise_counts(struct ledger *ledger, struct round_summary *summary, struct err *err)
{
    struct tally_totals totals;
    struct round_counts stated;
    if (!tally_totals(ledger, summary->round.id, &totals, err) ||
        !round_counts_get(ledger, summary->round.id, &stated, err))
        return false;
    struct round_counts counts = tally_counts(&totals, &stated);
    int64_t kept = counts.kept.number == NOT_COUNTED ? 0 : counts.kept.number;
    int64_t known = round_counts_rejected(&counts);
    int64_t rejected = known == NOT_COUNTED ? 0 : known;
    summary->tally.verdicts[VERDICT_KEEP] = (int)kept;
    summary->tally.verdicts[VERDICT_REJECT] = (int)rejected;
    summary->tally.judged = (int)(kept + rejected);
    if (stated.in.number != NOT_COUNTED)
        summary->tally.expected = (int)stated.in.number;
    summary->stated = round_counts_whole(&stated);
    bool was_tallied = !summary->stated && totals.first_day[0] != '\0';
    text_copy(summary->first_day, sizeof summary->first_day,
              was_tallied ? totals.first_day : counts.day);
    text_copy(summary->last_day, sizeof summary->last_day,
              was_tallied ? totals.last_day : counts.day);
    return true;
}

/* Days are local, by the clock the ledger was opened with. */
static bool summarise(struct ledger *ledger, const struct round *round, struct round_summary *ret,
                      struct err *err)
{
    struct round_counters counters;
    int offset_minutes = ledger_clock(ledger)->offset_minutes;
    if (!round_counters_get(ledger, round->id, &counters, err))
        return false;
    *ret =
        (struct round_summary){.round = *round, .bowls = counters.bowls, .tally = counters.tally};
    if (round->expected > 0)
        ret->tally.expected = round->expected;
    if (counters.first_ms >= 0)
        date_of_instant(counters.first_ms, offset_minutes, ret->first_day);
    if (counters.last_ms >= 0)
        date_of_instant(counters.last_ms, offset_minutes, ret->last_day);
    return round->manner == MANNER_JUDGE || summarise_counts(ledger, ret, err);
}

bool round_summary_get(struct ledger *ledger, int64_t id, struct round_summary *ret,
                       struct err *err)
{
    struct round round;
    struct round_summary summary;
    if (!round_get(ledger, id, &round, err) || !summarise(ledger, &round, &summary, err))
        return false;
    *ret = summary;
    return true;
}

bool round_summary_list(struct ledger *ledger, const char *spawning, struct round_summary **ret,
                        size_t *ret_count, struct err *err)
{
    struct round *rounds;
    size_t count;
    bool done = true;
    if (!round_list(ledger, spawning, &rounds, &count, err))
        return false;
    struct round_summary *summaries = alloc_zeroed(count, sizeof *summaries);
    for (size_t i = 0; done && i < count; i++)
        done = summarise(ledger, &rounds[i], &summaries[i], err);
    free(rounds);
    if (!done) {
        free(summaries);
        return false;
    }
    *ret = summaries;
    *ret_count = count;
    return true;
}

static void note_work(struct round_figures *figures, int64_t done, int64_t whole)
{
    if (done < whole) {
        figures->done = done;
        figures->whole = whole;
    }
}

static void take_judged(struct round_figures *figures, const struct judged_round *judged,
                        int offset_minutes)
{
    struct round_counts *counts = &figures->counts;
    int64_t whole = judged->expected;
    if (counts->in.number != NOT_COUNTED)
        whole = count_is_exact(&counts->in) ? counts->in.number : judged->in;
    else {
        counts->in = (struct count){judged->in, METHOD_COUNTED, 0};
        figures->in_so_far = judged->expected < 0 || judged->in < judged->expected;
    }
    if (counts->day[0] == '\0' && judged->first_ms >= 0)
        date_of_instant(judged->first_ms, offset_minutes, counts->day);
    if (counts->kept.number != NOT_COUNTED)
        return;
    note_work(figures, judged->in, whole);
    counts->kept = (struct count){judged->kept, METHOD_COUNTED, 0};
    if (counts->rejected == NOT_COUNTED)
        counts->rejected = judged->rejected;
}

/* Both in order of the round. */
static void take_all_judged(struct round_figures *figures, size_t count,
                            const struct judged_round *judged, size_t judged_count,
                            int offset_minutes)
{
    for (size_t i = 0, at = 0; i < count && at < judged_count; i++)
        if (figures[i].round_id == judged[at].round_id)
            take_judged(&figures[i], &judged[at++], offset_minutes);
}

/* Fish still to come of a counted lot that both sides are tallied of, fish by fish. An estimate
 * that does not come out even is no reason to wait for more. */
static void note_tally_work(struct round_figures *figures, const struct tally_totals *totals)
{
    if (totals->left > 0 && count_is_exact(&totals->in) && count_is_exact(&totals->kept) &&
        count_is_exact(&totals->rejected))
        note_work(figures, tally_handled(totals), totals->in.number);
}

static bool take_tally(struct ledger *ledger, struct round_figures *figures, struct err *err)
{
    struct tally_totals totals;
    if (!tally_totals(ledger, figures->round_id, &totals, err))
        return false;
    if (figures->counts.kept.number == NOT_COUNTED) {
        figures->covariance = totals.covariance;
        note_tally_work(figures, &totals);
    }
    figures->counts = tally_counts(&totals, &figures->counts);
    return true;
}

/* Figures and rounds are both in order of the round. */
static bool take_all_tallied(struct ledger *ledger, struct round_figures *figures, size_t count,
                             struct err *err)
{
    int64_t *rounds;
    size_t round_count;
    bool fine = true;
    if (!tallied_rounds(ledger, &rounds, &round_count, err))
        return false;
    for (size_t i = 0, at = 0; fine && i < count && at < round_count; i++)
        if (figures[i].round_id == rounds[at]) {
            fine = take_tally(ledger, &figures[i], err);
            at++;
        }
    free(rounds);
    return fine;
}

bool round_figures_list(struct ledger *ledger, struct round_figures **ret, size_t *ret_count,
                        struct err *err)
{
    struct stated_round *stated;
    struct judged_round *judged;
    size_t count, judged_count;
    if (!stated_rounds_list(ledger, &stated, &count, err))
        return false;
    if (!judged_rounds_list(ledger, &judged, &judged_count, err)) {
        free(stated);
        return false;
    }
    struct round_figures *figures = alloc_zeroed(count, sizeof *figures);
    for (size_t i = 0; i < count; i++)
        figures[i] = (struct round_figures){.round_id = stated[i].round_id,
                                            .lot_id = stated[i].lot_id,
                                            .stage = stated[i].stage,
                                            .counts = stated[i].counts};
    take_all_judged(figures, count, judged, judged_count, ledger_clock(ledger)->offset_minutes);
    free(stated);
    free(judged);
    if (!take_all_tallied(ledger, figures, count, err)) {
        free(figures);
        return false;
    }
    *ret = figures;
    *ret_count = count;
    return true;
}
