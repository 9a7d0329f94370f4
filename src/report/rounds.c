/* How far rounds are, and their numbers: what was stated, else what the fish judged one by one or
 * the tally say. All of it comes from the rows of rounds and bowls, whose counters the ledger
 * keeps; statements and keys of a tally are read only of rounds that have some. */
#include "senbetsu/report/rounds.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

static void note_work(struct round_summary *summary, int64_t done, int64_t whole)
{
    if (done < whole) {
        summary->done = done;
        summary->whole = whole;
    }
}

/* Fish judged one by one stand for the numbers that nobody stated. All that its bowls hold and that
 * were expected must be judged, unless somebody stated that fewer went in. */
static void take_fish(struct round_summary *summary, const struct round_counters *counters,
                      int offset_minutes)
{
    struct round_counts *counts = &summary->counts;
    const struct verdict_counts *tally = &counters->tally;
    int64_t expected = summary->round.expected, held = counters->held;
    int64_t judged = tally->judged, whole = expected > held ? expected : held;
    bool counted = counts->in.number != NOT_COUNTED, kept = counts->kept.number != NOT_COUNTED;
    if (counted)
        whole = count_is_exact(&counts->in) ? counts->in.number : judged;
    if (held > 0 && !kept)
        note_work(summary, judged, whole);
    if (judged == 0)
        return;
    if (!counted) {
        counts->in = (struct count){judged, METHOD_COUNTED, 0};
        summary->in_so_far = (expected == 0 && tally->expected == 0) || judged < whole;
    }
    if (counts->day[0] == '\0' && counters->first_ms >= 0)
        date_of_instant(counters->first_ms, offset_minutes, counts->day);
    if (kept)
        return;
    counts->kept = (struct count){tally->verdicts[VERDICT_KEEP], METHOD_COUNTED, 0};
    if (counts->rejected == NOT_COUNTED)
        counts->rejected = tally->verdicts[VERDICT_REJECT];
}

/* Fish still to come of a lot that both sides are tallied of. What an estimate leaves over within
 * twice its error is no reason to wait for more; nor is anything where the error is not known. */
static void note_tally_work(struct round_summary *summary, const struct tally_totals *totals)
{
    double error = hypot((double)totals->in.cv * (double)totals->in.number,
                         (double)totals->kept.cv * (double)totals->kept.number +
                             (double)totals->rejected.cv * (double)totals->rejected.number) /
                   CV_ONE;
    bool unknown = count_error_unknown(&totals->in) || count_error_unknown(&totals->kept) ||
                   count_error_unknown(&totals->rejected);
    if (totals->left > 0 && !unknown && (double)totals->left > 2 * error)
        note_work(summary, tally_handled(totals), totals->in.number);
}

static void take_tally(struct round_summary *summary, const struct tally_totals *totals)
{
    if (summary->counts.kept.number == NOT_COUNTED) {
        summary->covariance = totals->covariance;
        note_tally_work(summary, totals);
    }
    summary->counts = tally_counts(totals, &summary->counts);
}

/* The keys of a round: of one that is judged they are picks. */
static bool read_keys(struct ledger *ledger, struct counted_round *of, struct tally_totals *totals,
                      int *ret_picked, struct err *err)
{
    struct picks picks;
    if (!of->counters.tallied)
        return true;
    if (of->round.manner != MANNER_JUDGE)
        return tally_totals(ledger, of->round.id, totals, err);
    if (!picks_get(ledger, of->round.id, &picks, err))
        return false;
    picks = picks_standing(&picks, of->counters.pass.id != 0);
    *ret_picked = verdict_counts_pick(&of->counters.tally, picks_total(&picks));
    return true;
}

/* Of a round whose fish are not judged one by one. */
static void show_counts(struct round_summary *summary, const struct round_counts *stated)
{
    const struct round_counts *counts = &summary->counts;
    int64_t kept = counts->kept.number == NOT_COUNTED ? 0 : counts->kept.number;
    int64_t known = round_counts_rejected(counts);
    int64_t rejected = known == NOT_COUNTED ? 0 : known;
    summary->tally.verdicts[VERDICT_KEEP] = (int)kept;
    summary->tally.verdicts[VERDICT_REJECT] = (int)rejected;
    summary->tally.judged = (int)(kept + rejected);
    if (stated->in.number != NOT_COUNTED)
        summary->tally.expected = (int)stated->in.number;
    summary->stated = round_counts_whole(stated);
}

/* The days of the keys, or, of numbers that were stated, theirs. */
static void show_days(struct round_summary *summary, const struct tally_totals *totals)
{
    bool keyed = !summary->stated && totals->first_day[0] != '\0';
    text_copy(summary->first_day, sizeof summary->first_day,
              keyed ? totals->first_day : summary->counts.day);
    text_copy(summary->last_day, sizeof summary->last_day,
              keyed ? totals->last_day : summary->counts.day);
}

/* Days are local, by the clock the ledger was opened with. */
static bool summarise(struct ledger *ledger, struct counted_round *of, struct round_summary *ret,
                      struct err *err)
{
    const struct round_counters *counters = &of->counters;
    int offset_minutes = ledger_clock(ledger)->offset_minutes;
    struct round_counts stated;
    struct tally_totals totals = {.first_day = ""};
    int picked = 0;
    round_counts_init(&stated);
    if ((counters->stated && !round_counts_get(ledger, of->round.id, &stated, err)) ||
        !read_keys(ledger, of, &totals, &picked, err))
        return false;
    *ret = (struct round_summary){.round = of->round,
                                  .bowls = counters->bowls,
                                  .tally = counters->tally,
                                  .picked = picked,
                                  .counts = stated,
                                  .pass = counters->pass};
    if (of->round.expected > 0)
        ret->tally.expected = of->round.expected;
    take_fish(ret, counters, offset_minutes);
    if (totals.first_day[0] != '\0')
        take_tally(ret, &totals);
    if (of->round.manner != MANNER_JUDGE) {
        show_counts(ret, &stated);
        show_days(ret, &totals);
        return true;
    }
    if (counters->first_ms >= 0)
        date_of_instant(counters->first_ms, offset_minutes, ret->first_day);
    if (counters->last_ms >= 0)
        date_of_instant(counters->last_ms, offset_minutes, ret->last_day);
    return true;
}

bool round_summary_get(struct ledger *ledger, int64_t id, struct round_summary *ret,
                       struct err *err)
{
    struct counted_round round;
    struct round_summary summary;
    if (!counted_round_get(ledger, id, &round, err) || !summarise(ledger, &round, &summary, err))
        return false;
    *ret = summary;
    return true;
}

bool round_summary_list(struct ledger *ledger, const char *spawning, struct round_summary **ret,
                        size_t *ret_count, struct err *err)
{
    struct counted_round *rounds;
    size_t count;
    bool done = true;
    if (!counted_round_list(ledger, spawning, &rounds, &count, err))
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

static struct cull_numbers numbers_of(const struct round_summary *summary)
{
    return (struct cull_numbers){
        .id = summary->round.id,
        .lot_id = summary->round.lot_id,
        .stage = summary->round.stage,
        .in = summary->counts.in,
        .kept = summary->counts.kept,
        .dead = summary->counts.dead,
        .covariance = summary->covariance,
        .in_so_far = summary->in_so_far,
        .done = summary->done,
        .whole = summary->whole,
        .outdated = round_pass_outdated(summary),
    };
}

bool cull_numbers_list(struct ledger *ledger, struct cull_numbers **ret, size_t *ret_count,
                       struct err *err)
{
    struct cull_numbers *numbers;
    struct round_summary summary;
    size_t count;
    bool done = cull_numbers_stated(ledger, &numbers, &count, err);
    if (!done)
        return false;
    for (size_t i = 0; done && i < count; i++) {
        if (numbers[i].bare)
            continue;
        done = round_summary_get(ledger, numbers[i].id, &summary, err);
        if (done) {
            numbers[i] = numbers_of(&summary);
            text_copy(numbers[i].day, sizeof numbers[i].day, summary.counts.day);
        }
    }
    if (!done) {
        free(numbers);
        return false;
    }
    *ret = numbers;
    *ret_count = count;
    return true;
}

/* The pass. */

static int fish_of(const struct round_summary *summary)
{
    return summary->tally.judged + summary->tally.verdicts[VERDICT_OPEN];
}

static bool is_other_standard(const struct round_summary *summary)
{
    const struct latest_pass *pass = &summary->pass;
    return strcmp(pass->standard, summary->round.standard) != 0 || pass->version != pass->newest;
}

bool round_pass_outdated(const struct round_summary *summary)
{
    const struct latest_pass *pass = &summary->pass;
    return pass->id != 0 && (summary->tally.changed > 0 || pass->fish != fish_of(summary) ||
                             pass->places != summary->round.places || is_other_standard(summary));
}

static void add_places(int places, struct text *out)
{
    if (places < 0)
        text_add(out, "no limit");
    else
        text_addf(out, "%d places", places);
}

static void add_standards(const struct round_summary *summary, struct text *out)
{
    const struct latest_pass *pass = &summary->pass;
    bool same = strcmp(pass->standard, summary->round.standard) == 0;
    text_addf(out, ", %s version %d then and ", pass->standard, pass->version);
    if (same)
        text_addf(out, "%d now", pass->newest);
    else
        text_addf(out, "%s now", summary->round.standard);
}

static void add_change_of_places(int then, int now, struct text *out)
{
    text_add(out, ", ");
    add_places(then, out);
    text_add(out, " then and ");
    if (then >= 0 && now >= 0)
        text_addf(out, "%d", now);
    else
        add_places(now, out);
    text_add(out, " now");
}

const char *round_pass_changes(const struct round_summary *summary,
                               char ret_text[ROUND_SENTENCE_SIZE])
{
    const struct latest_pass *pass = &summary->pass;
    struct text out;
    ret_text[0] = '\0';
    if (!round_pass_outdated(summary))
        return ret_text;
    text_init(&out);
    if (summary->tally.changed > 0)
        text_addf(&out, ", %d fish judged since", summary->tally.changed);
    if (pass->fish != fish_of(summary))
        text_addf(&out, ", %d fish then and %d now", pass->fish, fish_of(summary));
    if (pass->places != summary->round.places)
        add_change_of_places(pass->places, summary->round.places, &out);
    if (is_other_standard(summary))
        add_standards(summary, &out);
    text_copy(ret_text, ROUND_SENTENCE_SIZE, out.data + 2);
    text_done(&out);
    return ret_text;
}

const char *round_pass_sentence(const struct round_summary *summary,
                                char ret_text[ROUND_SENTENCE_SIZE])
{
    char changes[ROUND_SENTENCE_SIZE];
    ret_text[0] = '\0';
    if (round_pass_changes(summary, changes)[0] != '\0')
        snprintf(ret_text, ROUND_SENTENCE_SIZE, "The pass is out of date: %.400s.", changes);
    return ret_text;
}

const char *round_not_done(const struct round_summary *summary, char ret_text[ROUND_SENTENCE_SIZE])
{
    ret_text[0] = '\0';
    if (summary->whole > 0)
        snprintf(ret_text, ROUND_SENTENCE_SIZE, "not done: %" PRId64 " of %" PRId64 " %s",
                 summary->done, summary->whole,
                 summary->round.manner == MANNER_JUDGE ? "judged" : "tallied");
    return ret_text;
}
