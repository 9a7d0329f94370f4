/* Makes the day's sheet from every round that was at work on the day: judged fish, tallies, stated
 * numbers and first looks are looked for one after the other, for a round may have several of them.
 */
#include "senbetsu/report/day.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>
#include <string.h>

static void count_reason(const char *label, struct day_round *counted, size_t *capacity)
{
    struct reject_reason *reasons = counted->judged_reasons;
    size_t at = 0;
    while (at < counted->judged_reason_count && strcmp(reasons[at].label, label) != 0)
        at++;
    if (at == counted->judged_reason_count) {
        reasons = counted->judged_reasons = alloc_room(reasons, at, capacity, sizeof *reasons);
        reasons[at].fish = 0;
        text_copy(reasons[at].label, sizeof reasons[at].label, label);
        counted->judged_reason_count++;
    }
    reasons[at].fish++;
}

/* The round's fish as its cull list has them. */
static bool take_fish(struct ledger *ledger, const struct round *round, struct day_round *ret,
                      struct err *err)
{
    struct cull_round listed;
    size_t capacity = 0;
    if (!cull_round_make(ledger, round, &listed, err))
        return false;
    ret->by_verdict = cull_count_round(&listed);
    for (size_t i = 0; i < listed.fish_count; i++)
        if (listed.fish[i].verdict == VERDICT_REJECT)
            count_reason(listed.fish[i].reason_label, ret, &capacity);
    cull_round_done(&listed);
    return true;
}

/* What was stated of the round for another day is not the day's. */
static bool take_counts(struct ledger *ledger, int64_t round_id, const char *day,
                        struct round_counts *ret, struct err *err)
{
    if (!round_counts_get(ledger, round_id, ret, err))
        return false;
    if (strcmp(ret->day, day) != 0)
        round_counts_init(ret);
    return true;
}

/* A look that was begun or ended on another day is told on each of its days. */
static bool take_first_look(struct ledger *ledger, int64_t round_id, const char *day,
                            struct first_look *ret, struct err *err)
{
    if (!first_look_get(ledger, round_id, ret, err))
        return false;
    if (strcmp(day, ret->first_day) < 0 || strcmp(ret->last_day, day) < 0)
        *ret = (struct first_look){.looked_at = 0};
    return true;
}

static bool sum_tally(struct ledger *ledger, int64_t round_id, const char *day,
                      struct tally_totals *ret, struct err *err)
{
    struct tally_line *lines;
    size_t count;
    bool read = day != NULL ? tally_lines_of_day(ledger, round_id, day, &lines, &count, err)
                            : tally_lines(ledger, round_id, &lines, &count, err);
    if (!read)
        return false;
    *ret = tally_totals_of(lines, count);
    free(lines);
    return true;
}

static bool take_tally(struct ledger *ledger, const struct round *round, const char *day,
                       struct day_round *taken, struct err *err)
{
    struct count lot;
    if (round->manner == MANNER_JUDGE) /* its keys are picks of a closer look */
        return true;
    if (!sum_tally(ledger, round->id, day, &taken->on_day, err))
        return false;
    taken->is_tallied = tally_handled(&taken->on_day) > 0;
    if (!taken->is_tallied)
        return true;
    if (!sum_tally(ledger, round->id, NULL, &taken->stands, err) ||
        !tally_lot(ledger, round->id, &lot, err))
        return false;
    taken->left = tally_left(&taken->stands, round->manner, &lot);
    return reject_reasons_make(ledger, round, &taken->stands, &taken->reasons, &taken->reason_count,
                               err);
}

static bool take_fates(struct ledger *ledger, const struct round_summary *summary,
                       struct fates *ret, struct err *err)
{
    if (!reject_fates_get(ledger, summary->round.id, ret, err))
        return false;
    fates_settle(ret, round_counts_rejected(&summary->counts), summary->round.fate);
    return true;
}

/* Adds the round where it was at work on the day; what was allocated stays with `sheet`. */
static bool take_round(struct ledger *ledger, const struct round_summary *summary, const char *day,
                       struct day_sheet *sheet, struct err *err)
{
    const struct round *round = &summary->round;
    struct day_round *taken = &sheet->rounds[sheet->round_count];
    *taken = (struct day_round){.stage = round->stage};
    text_copy(taken->spawning, sizeof taken->spawning, round->spawning);
    text_copy(taken->variety, sizeof taken->variety, round->variety);
    text_copy(taken->lot, sizeof taken->lot, round->lot);
    round_not_done(summary, taken->not_done);
    round_pass_sentence(summary, taken->outdated);
    bool judged = summary->bowls > 0 && summary->first_day[0] != '\0' &&
                  strcmp(summary->first_day, day) <= 0 && strcmp(day, summary->last_day) <= 0;
    if (!take_counts(ledger, round->id, day, &taken->counts, err) ||
        !take_first_look(ledger, round->id, day, &taken->first_look, err) ||
        (judged && !fish_looked_at(ledger, round->id, day, &taken->looked_at, err)) ||
        !take_tally(ledger, round, day, taken, err))
        return false;
    if (taken->looked_at == 0 && !taken->is_tallied && taken->counts.day[0] == '\0' &&
        taken->first_look.looked_at == 0)
        return true;
    sheet->round_count++;
    return take_fates(ledger, summary, &taken->fates, err) &&
           (taken->looked_at == 0 || take_fish(ledger, round, taken, err));
}

/* What happened to lots on the day. */
static bool take_news(struct ledger *ledger, const char *day, struct day_sheet *sheet,
                      struct err *err)
{
    if (!lot_events_of_day(ledger, day, &sheet->events, &sheet->news_count, err) ||
        !lot_origins_list(ledger, &sheet->lots, &sheet->lot_count, err))
        return false;
    sheet->news = alloc_zeroed(sheet->news_count, sizeof *sheet->news);
    for (size_t i = 0; i < sheet->news_count; i++)
        sheet->news[i] =
            lot_news_of(&sheet->events[i],
                        lot_origin_find(sheet->lots, sheet->lot_count, sheet->events[i].lot_id));
    return true;
}

bool day_sheet_make(struct ledger *ledger, const char *day, struct day_sheet *ret, struct err *err)
{
    struct day_sheet sheet = {.day = ""};
    struct round_summary *summaries;
    size_t count;
    if (!round_summary_list(ledger, NULL, &summaries, &count, err))
        return false;
    sheet.rounds = alloc_zeroed(count, sizeof *sheet.rounds);
    text_copy(sheet.day, sizeof sheet.day, day);
    bool done = true;
    for (size_t i = 0; i < count && done; i++)
        done = take_round(ledger, &summaries[i], day, &sheet, err);
    free(summaries);
    done = done && take_news(ledger, day, &sheet, err);
    if (done && sheet.round_count == 0 && sheet.news_count == 0)
        done = err_set(err, ERR_ABSENT, "Nothing was culled on %s, and nothing happened to a lot.",
                       day);
    if (done)
        *ret = sheet;
    else
        day_sheet_done(&sheet);
    return done;
}

void day_sheet_done(struct day_sheet *sheet)
{
    for (size_t i = 0; i < sheet->round_count; i++) {
        free(sheet->rounds[i].judged_reasons);
        free(sheet->rounds[i].reasons);
    }
    free(sheet->rounds);
    free(sheet->news);
    free(sheet->events);
    lot_origins_free(sheet->lots, sheet->lot_count);
}
