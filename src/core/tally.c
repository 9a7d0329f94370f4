/* Adds up the marks of a tally. Scoops of one size share the error of that size, so they are put
 * together before errors add up as squares, and two numbers that hold scoops of one size, or of
 * which one is what the other leaves, have a covariance. */
#include "senbetsu/core/tally.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/progress.h"

#include <string.h>

const struct term tally_terms[TALLY_KIND_COUNT] = {
    [TALLY_KEEP] = {"keep", "goes on"},
    [TALLY_REJECT] = {"reject", "taken out"},
    [TALLY_DEAD] = {"dead", "found dead"},
};

static bool same_sort(const struct tally_mark *a, const struct tally_mark *b)
{
    return a->kind == b->kind && a->scoop.id == b->scoop.id && strcmp(a->reason, b->reason) == 0;
}

int tally_line_find(const struct tally_line *lines, size_t count, const struct tally_mark *mark)
{
    for (size_t i = 0; i < count; i++)
        if (same_sort(&lines[i].mark, mark))
            return (int)i;
    return -1;
}

int64_t tally_mark_fish(const struct tally_mark *mark)
{
    return mark->scoop.id == 0 ? 1 : scoop_fish(&mark->scoop, 1);
}

struct picks picks_of(const struct tally_line *lines, size_t count)
{
    struct picks picks = {0};
    for (size_t i = 0; i < count; i++)
        if (lines[i].mark.kind == TALLY_KEEP && strcmp(lines[i].mark.reason, TALLY_STAYS) == 0)
            picks.stay += (int)lines[i].times;
        else if (lines[i].mark.kind == TALLY_KEEP)
            picks.from_hold += (int)lines[i].times;
    return picks;
}

int picks_total(const struct picks *picks)
{
    return picks->from_hold + picks->stay;
}

struct picks picks_standing(const struct picks *picks, bool passed)
{
    return (struct picks){.from_hold = picks->from_hold, .stay = passed ? picks->stay : 0};
}

static void count_add(struct count *sum, const struct count *part)
{
    *sum = count_together(sum, part, sum->number + part->number);
}

static struct count line_count(const struct tally_line *line)
{
    const struct scoop *scoop = &line->mark.scoop;
    if (scoop->id == 0)
        return (struct count){line->times, METHOD_COUNTED, 0};
    return (struct count){scoop_fish(scoop, line->times), METHOD_SCOOPED, scoop_cv(scoop)};
}

static struct count *reason_count(struct tally_totals *totals, const char *code)
{
    for (int i = 0; i < totals->reason_count; i++)
        if (strcmp(totals->reasons[i].code, code) == 0)
            return &totals->reasons[i].count;
    if (totals->reason_count == TALLY_REASONS)
        return NULL;
    struct tally_reason *reason = &totals->reasons[totals->reason_count++];
    text_copy(reason->code, sizeof reason->code, code);
    reason->count.method = METHOD_COUNTED;
    return &reason->count;
}

/* TALLY_KIND_COUNT = every kind. */
static bool adds_up_in(const struct tally_mark *mark, enum tally_kind kind, const char *reason)
{
    return (kind == TALLY_KIND_COUNT || mark->kind == kind) &&
           (reason == NULL || strcmp(mark->reason, reason) == 0);
}

/* The first line of its size among those that add up to the same number. */
static bool is_first_of_size(const struct tally_line *lines, size_t index, enum tally_kind kind,
                             const char *reason)
{
    for (size_t i = 0; i < index; i++)
        if (adds_up_in(&lines[i].mark, kind, reason) &&
            lines[i].mark.scoop.id == lines[index].mark.scoop.id)
            return false;
    return true;
}

/* One number: lines of the same size first become one, for its error is common to them. */
static struct count sum_of(const struct tally_line *lines, size_t count, enum tally_kind kind,
                           const char *reason)
{
    struct count sum = {0, METHOD_COUNTED, 0};
    for (size_t i = 0; i < count; i++) {
        if (!adds_up_in(&lines[i].mark, kind, reason) || !is_first_of_size(lines, i, kind, reason))
            continue;
        struct tally_line size = {lines[i].mark, 0};
        for (size_t j = i; j < count; j++)
            if (adds_up_in(&lines[j].mark, kind, reason) &&
                lines[j].mark.scoop.id == size.mark.scoop.id)
                size.times += lines[j].times;
        struct count part = line_count(&size);
        count_add(&sum, &part);
    }
    return sum;
}

/* Fish of one size of scoop among the marks that add up to a number. */
static int64_t fish_of_size(const struct tally_line *lines, size_t count, enum tally_kind kind,
                            const struct scoop *scoop)
{
    int64_t times = 0;
    for (size_t i = 0; i < count; i++)
        if (adds_up_in(&lines[i].mark, kind, NULL) && lines[i].mark.scoop.id == scoop->id)
            times += lines[i].times;
    return scoop_fish(scoop, times);
}

/* The error of a size goes into both numbers, in proportion to the fish of that size in each. */
static int64_t shared_error(const struct tally_line *lines, size_t count,
                            const struct tally_totals *totals)
{
    int64_t covariance = 0;
    if (totals->kept.cv == 0 || totals->in.cv == 0)
        return 0; /* counted, or of unknown error */
    for (size_t i = 0; i < count; i++) {
        const struct scoop *scoop = &lines[i].mark.scoop;
        if (scoop->id == 0 || !is_first_of_size(lines, i, TALLY_KIND_COUNT, NULL))
            continue;
        int64_t kept = fish_of_size(lines, count, TALLY_KEEP, scoop);
        int64_t all = fish_of_size(lines, count, TALLY_KIND_COUNT, scoop);
        covariance += scoop_cv(scoop) * kept / totals->kept.number *
                      (scoop_cv(scoop) * all / totals->in.number);
    }
    return covariance;
}

/* Reasons are rounded one by one; the largest of the scooped ones takes what is missing to their
 * sum, unless that are fish of reasons for which there is no room. */
static void make_reasons_add_up(struct tally_totals *totals)
{
    struct count *largest = NULL;
    int64_t rest = totals->rejected.number;
    if (totals->reason_count == TALLY_REASONS)
        return;
    for (int i = 0; i < totals->reason_count; i++) {
        struct count *count = &totals->reasons[i].count;
        rest -= count->number;
        if (count->method == METHOD_SCOOPED && (largest == NULL || count->number > largest->number))
            largest = count;
    }
    if (largest != NULL)
        largest->number += rest;
}

struct tally_totals tally_totals_of(const struct tally_line *lines, size_t count)
{
    struct tally_totals totals = {.kept = sum_of(lines, count, TALLY_KEEP, NULL),
                                  .rejected = sum_of(lines, count, TALLY_REJECT, NULL),
                                  .dead = sum_of(lines, count, TALLY_DEAD, NULL),
                                  .in = sum_of(lines, count, TALLY_KIND_COUNT, NULL),
                                  .left = -1};
    /* Each number is rounded by itself; the whole is what they add up to. */
    totals.in.number = tally_handled(&totals);
    totals.covariance = shared_error(lines, count, &totals);
    for (size_t i = 0; i < count; i++) {
        const struct tally_mark *mark = &lines[i].mark;
        struct count *reason =
            mark->kind == TALLY_REJECT ? reason_count(&totals, mark->reason) : NULL;
        if (reason != NULL && reason->number == 0)
            *reason = sum_of(lines, count, TALLY_REJECT, mark->reason);
    }
    make_reasons_add_up(&totals);
    return totals;
}

int64_t tally_handled(const struct tally_totals *totals)
{
    return totals->kept.number + totals->rejected.number + totals->dead.number;
}

/* `from` without what was tallied as `part` and dead. */
static bool rest_of(const struct count *from, const struct count *part, const struct count *dead,
                    struct count *ret)
{
    struct count gone = *part;
    count_add(&gone, dead);
    if (from->number == NOT_COUNTED || from->number < gone.number)
        return false;
    *ret = count_together(from, &gone, from->number - gone.number);
    return true;
}

/* In a pick round the fish left over, in a remove round those that go on, must be tallied as well.
 */
static bool both_sides(const struct tally_totals *totals, enum manner manner)
{
    return (manner == MANNER_PICK ? totals->rejected.number : totals->kept.number) > 0;
}

/* Of a rest: all of the error of the number it was taken from. */
static int64_t shared_with_rest(const struct count *in, const struct count *rest)
{
    if (rest->number == 0)
        return 0;
    int64_t error = in->cv * in->number / rest->number;
    return in->cv * (error < rest->cv ? error : rest->cv);
}

void tally_settle(struct tally_totals *totals, enum manner manner, const struct count *in)
{
    totals->left = tally_left(totals, manner, in);
    if (in->number != NOT_COUNTED || !both_sides(totals, manner)) {
        totals->in = *in;
        totals->covariance = 0;
    }
    if (manner == MANNER_PICK && totals->rejected.number == 0)
        totals->rejected_is_rest = rest_of(in, &totals->kept, &totals->dead, &totals->rejected);
    if (manner == MANNER_REMOVE && totals->kept.number == 0)
        totals->kept_is_rest = rest_of(in, &totals->rejected, &totals->dead, &totals->kept);
    if (totals->kept_is_rest)
        totals->covariance = shared_with_rest(in, &totals->kept);
}

int64_t tally_left(const struct tally_totals *totals, enum manner manner, const struct count *in)
{
    int64_t handled = tally_handled(totals);
    if (!both_sides(totals, manner) || in->number == NOT_COUNTED)
        return -1;
    return in->number > handled ? in->number - handled : 0;
}

struct round_counts tally_counts(const struct tally_totals *totals,
                                 const struct round_counts *stated)
{
    struct round_counts counts;
    round_counts_init(&counts);
    if (totals->first_day[0] != '\0' && !round_counts_whole(stated)) {
        counts.in = totals->in;
        if (totals->kept.number > 0 || totals->in.number != NOT_COUNTED)
            counts.kept = totals->kept; /* else only rejects were tallied, and how many fish there
                                           were is unknown */
        counts.rejected = totals->rejected.number;
        counts.dead = totals->dead.number;
        text_copy(counts.day, sizeof counts.day, totals->first_day);
    }
    round_counts_apply(&counts, stated);
    return counts;
}

void tally_pace_add(struct tally_pace *pace, int64_t at_ms, int64_t fish)
{
    int64_t gap = at_ms - pace->last_ms;
    if (pace->last_ms != 0 && gap >= 0 && gap <= PACE_BREAK_MS) {
        pace->fish += fish;
        pace->worked_ms += gap;
    }
    pace->last_ms = at_ms;
}

int64_t tally_pace_per_hour(const struct tally_pace *pace)
{
    enum { HOUR_MS = 60 * 60 * 1000 };
    if (pace->worked_ms < PACE_LEAST_MS)
        return 0;
    return (pace->fish * HOUR_MS + pace->worked_ms / 2) / pace->worked_ms;
}

int64_t tally_minutes(int64_t fish, int64_t per_hour)
{
    return fish < 0 || per_hour <= 0 ? -1 : (fish * 60 + per_hour - 1) / per_hour;
}
