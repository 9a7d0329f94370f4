/* Finds the culls that come next, from the age of the oldest young of each lot and the usual ages
 * of the trade (core/usual.h), and how long they will take, from the pace at which the own fish
 * were judged or tallied at the same stage. */
#include "senbetsu/report/due.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/core/progress.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct source {
    struct spawning *spawnings;
    struct lot_line *lots;
    struct round_summary *rounds;
    struct judge *judges;
    size_t spawning_count, lot_count, round_count, judge_count;
};

/* Fish that were timed, and the hours they took. */
struct timed {
    double fish, hours;
};

static bool list_sources(struct ledger *ledger, struct source *ret, struct err *err)
{
    return spawning_list(ledger, &ret->spawnings, &ret->spawning_count, err) &&
           lot_lines_list(ledger, &ret->lots, &ret->lot_count, err) &&
           round_summary_list(ledger, NULL, &ret->rounds, &ret->round_count, err) &&
           judge_list(ledger, &ret->judges, &ret->judge_count, err);
}

static void free_sources(struct source *source)
{
    free(source->spawnings);
    lot_lines_free(source->lots, source->lot_count);
    free(source->rounds);
    free(source->judges);
}

/* Index 0 stands for a judge who did not say a name. */
static int64_t judge_at(const struct source *source, size_t index)
{
    return index == 0 ? 0 : source->judges[index - 1].id;
}

static bool time_judged(struct ledger *ledger, const struct source *source, int64_t round_id,
                        struct timed *timed, struct err *err)
{
    struct closings closings;
    if (!closings_of_round(ledger, round_id, &closings, err))
        return false;
    for (size_t i = 0; i <= source->judge_count; i++) {
        size_t count;
        const int64_t *closed = closings_by(&closings, judge_at(source, i), &count);
        int pace = pace_per_hour(closed, count);
        if (pace > 0) {
            timed->fish += (double)count;
            timed->hours += (double)count / pace;
        }
    }
    closings_done(&closings);
    return true;
}

/* Where nobody tallied the fish left over, the hours were spent on all that went in. */
static bool time_tallied(struct ledger *ledger, const struct source *source, int64_t round_id,
                         struct timed *timed, struct err *err)
{
    const double hour_ms = 60.0 * 60 * 1000;
    struct tally_totals totals;
    struct timed here = {0};
    if (!tally_totals(ledger, round_id, &totals, err))
        return false;
    for (size_t i = 0; i <= source->judge_count; i++) {
        struct tally_pace pace;
        if (!tally_pace_of(ledger, round_id, judge_at(source, i), 0, &pace, err))
            return false;
        here.fish += (double)pace.fish;
        here.hours += (double)pace.worked_ms / hour_ms;
    }
    if (totals.rejected_is_rest || totals.kept_is_rest)
        here.fish = (double)totals.in.number;
    if (here.hours > 0) {
        timed->fish += here.fish;
        timed->hours += here.hours;
    }
    return true;
}

/* Of one stage, by everybody who has worked at it. */
static bool measure_pace(struct ledger *ledger, const struct source *source, enum stage stage,
                         int *ret, struct err *err)
{
    struct timed timed = {0};
    for (size_t i = 0; i < source->round_count; i++) {
        const struct round *round = &source->rounds[i].round;
        if (round->stage != stage)
            continue;
        if (source->rounds[i].tally.judged > 0 &&
            !time_judged(ledger, source, round->id, &timed, err))
            return false;
        if (round->manner != MANNER_JUDGE && !time_tallied(ledger, source, round->id, &timed, err))
            return false;
    }
    *ret = timed.hours > 0 ? (int)lround(timed.fish / timed.hours) : 0;
    return true;
}

/* The spawning whose young are the oldest in a lot; NULL where no date is known. */
static const struct spawning *oldest_of(const struct source *source, const struct lot_origin *lot)
{
    const struct spawning *oldest = NULL;
    for (size_t i = 0; i < source->spawning_count; i++) {
        const struct spawning *spawning = &source->spawnings[i];
        if (spawning->date[0] != '\0' && code_in_list(lot->spawnings, spawning->code) &&
            (oldest == NULL || strcmp(spawning->date, oldest->date) < 0))
            oldest = spawning;
    }
    return oldest;
}

/* -1 = none yet. */
static int last_stage(const struct lot_line *lot)
{
    return lot->book.after == STAGE_COUNT ? -1 : (int)lot->book.after;
}

/* Are its fish known to be gone? A mixed lot of which nobody said where its fish came from has
 * those of all its spawnings. */
static bool is_gone(const struct source *source, const struct lot_line *lot)
{
    if (lot->book.base == BOOK_NOTHING || (lot->book.now.number == 0 && lot->book.overdrawn == 0))
        return true;
    for (size_t i = 0; i < source->lot_count && !lot->of.mixed; i++) {
        const struct lot_line *mixed = &source->lots[i];
        if (mixed->of.mixed && mixed->book.moved_in == 0 &&
            code_in_list(mixed->of.spawnings, lot->of.spawnings) &&
            last_stage(mixed) > last_stage(lot))
            return true;
    }
    return false;
}

/* Sets stage and time; false where none of the stages after `last` is still ahead. */
static bool find_stage(const char *variety, int hatched, int last, int today, struct due *ret)
{
    for (int stage = last + 1; stage < STAGE_COUNT; stage++) {
        const struct usual_age *age = usual_age(variety, (enum stage)stage);
        if (age == NULL || today - hatched > 2 * age->last_day - age->first_day)
            continue;
        ret->stage = (enum stage)stage;
        ret->evidence = age->evidence;
        ret->late = today - hatched > age->last_day;
        date_text(hatched + age->first_day, ret->from);
        date_text(hatched + age->last_day, ret->to);
        return true;
    }
    return false;
}

static int compare_dues(const void *left, const void *right)
{
    const struct due *a = left;
    const struct due *b = right;
    int order = strcmp(a->from, b->from);
    if (order == 0)
        order = strcmp(a->spawnings, b->spawnings);
    return order != 0 ? order : strcmp(a->lot, b->lot);
}

static void name_lot(struct due *due, const struct lot_line *lot)
{
    text_copy(due->spawnings, sizeof due->spawnings, lot->of.spawnings);
    text_copy(due->lot, sizeof due->lot, lot->of.lot);
    text_copy(due->variety, sizeof due->variety, lot->of.variety);
    text_copy(due->pond, sizeof due->pond, lot->pond);
    due->mixed = lot->of.mixed;
    due->fry = lot->book.base == BOOK_FRY;
    due->fish = lot->book.overdrawn > 0 ? NOT_COUNTED : lot->book.now.number;
}

static void find_dues(const struct source *source, const struct selection *of,
                      struct due_list *list)
{
    list->dues = alloc_zeroed(source->lot_count, sizeof *list->dues);
    for (size_t i = 0; i < source->lot_count; i++) {
        const struct lot_line *lot = &source->lots[i];
        const struct spawning *oldest = oldest_of(source, &lot->of);
        struct due *due = &list->dues[list->count];
        if (oldest == NULL || !selection_takes(of, &lot->of) || is_gone(source, lot) ||
            !find_stage(lot->of.variety, date_days(oldest->date) + DAYS_TO_HATCH, last_stage(lot),
                        date_days(list->from), due) ||
            strcmp(due->from, list->to) > 0)
            continue;
        name_lot(due, lot);
        list->count++;
    }
    qsort(list->dues, list->count, sizeof *list->dues, compare_dues);
}

static bool is_due(const struct due_list *list, int stage)
{
    for (size_t i = 0; i < list->count; i++)
        if ((int)list->dues[i].stage == stage)
            return true;
    return false;
}

/* Measuring reads when every fish of the stage was closed: only where one is due. */
static bool set_paces(struct ledger *ledger, const struct source *source, struct due_list *list,
                      struct err *err)
{
    for (int stage = 0; stage < STAGE_COUNT; stage++) {
        int pace = 0;
        if (!is_due(list, stage))
            continue;
        if (!measure_pace(ledger, source, (enum stage)stage, &pace, err))
            return false;
        for (size_t i = 0; i < list->count; i++)
            if ((int)list->dues[i].stage == stage)
                list->dues[i].pace = pace;
    }
    return true;
}

bool due_list_make(struct ledger *ledger, const char *day, int days, const struct selection *of,
                   struct due_list *ret, struct err *err)
{
    struct source source = {.spawnings = NULL};
    struct due_list list = {.dues = NULL};
    text_copy(list.from, sizeof list.from, day);
    date_text(date_days(day) + days, list.to);
    bool done = list_sources(ledger, &source, err);
    if (done) {
        find_dues(&source, of, &list);
        done = set_paces(ledger, &source, &list, err);
    }
    free_sources(&source);
    if (done)
        *ret = list;
    else
        free(list.dues);
    return done;
}
