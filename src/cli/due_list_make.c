#include "senbetsu/cli/due_list_make.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/store/descents.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/rounds.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct source {
    struct spawning *spawnings;
    struct descent *lots;
    struct round_figures *figures;
    struct round_summary *rounds;
    struct judge *judges;
    size_t spawning_count, lot_count, figure_count, round_count, judge_count;
};

/* Fish that were timed, and the hours they took. */
struct timed {
    double fish, hours;
};

static bool list_sources(struct ledger *ledger, struct source *ret, struct err *err)
{
    return spawning_list(ledger, &ret->spawnings, &ret->spawning_count, err) &&
           descents_list(ledger, &ret->lots, &ret->lot_count, err) &&
           round_figures_list(ledger, &ret->figures, &ret->figure_count, err) &&
           round_list(ledger, NULL, &ret->rounds, &ret->round_count, err) &&
           judge_list(ledger, &ret->judges, &ret->judge_count, err);
}

static void free_sources(struct source *source)
{
    free(source->spawnings);
    descents_free(source->lots, source->lot_count);
    free(source->figures);
    free(source->rounds);
    free(source->judges);
}

static bool add_timed(struct ledger *ledger, int64_t round_id, int64_t judge, struct timed *timed,
                      struct err *err)
{
    int64_t *closed;
    size_t count;
    if (!closings_of(ledger, round_id, judge, 0, &closed, &count, err))
        return false;
    int pace = pace_per_hour(closed, count);
    if (pace > 0) {
        timed->fish += (double)count;
        timed->hours += (double)count / pace;
    }
    free(closed);
    return true;
}

/* Of one stage, by everybody who has judged; index 0 stands for a judge who did not say a name. */
static bool measure_pace(struct ledger *ledger, const struct source *source, enum stage stage,
                         int *ret, struct err *err)
{
    struct timed timed = {0};
    for (size_t i = 0; i < source->round_count; i++) {
        if (source->rounds[i].round.stage != stage || source->rounds[i].tally.judged == 0)
            continue;
        for (size_t j = 0; j <= source->judge_count; j++)
            if (!add_timed(ledger, source->rounds[i].round.id,
                           j == 0 ? 0 : source->judges[j - 1].id, &timed, err))
                return false;
    }
    *ret = timed.hours > 0 ? (int)lround(timed.fish / timed.hours) : 0;
    return true;
}

/* The last stage with a number, -1 where there is none, and the fish it kept. */
static int last_stage(const struct source *source, const struct spawning *spawning,
                      int64_t *ret_fish)
{
    int last = -1;
    bool mixed = false;
    *ret_fish = spawning->hatched;
    for (size_t i = 0; i < source->figure_count; i++) {
        const struct round_figures *figures = &source->figures[i];
        const struct descent *lot = descent_find(source->lots, source->lot_count, figures->lot_id);
        if (lot == NULL || figures->kept.number == NOT_COUNTED ||
            !code_in_list(lot->spawnings, spawning->code) || (int)figures->stage < last)
            continue;
        if ((int)figures->stage > last) {
            *ret_fish = 0;
            mixed = false;
        }
        last = (int)figures->stage;
        mixed |= lot->mixed;
        *ret_fish += figures->kept.number;
    }
    if (mixed)
        *ret_fish = NOT_COUNTED;
    return last;
}

/* Sets stage and time; false where none of the stages after `last` is still ahead. */
static bool find_stage(const struct spawning *spawning, int last, int today, struct due *ret)
{
    int hatched = date_days(spawning->date) + DAYS_TO_HATCH;
    for (int stage = last + 1; stage < STAGE_COUNT; stage++) {
        const struct usual_age *age = usual_age(spawning->variety, (enum stage)stage);
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
    return order != 0 ? order : strcmp(a->spawning, b->spawning);
}

static void find_dues(const struct source *source, struct due_list *list)
{
    list->dues = alloc_zeroed(source->spawning_count, sizeof *list->dues);
    for (size_t i = 0; i < source->spawning_count; i++) {
        const struct spawning *spawning = &source->spawnings[i];
        struct due *due = &list->dues[list->count];
        int last = last_stage(source, spawning, &due->fish);
        if (spawning->date[0] == '\0' || !find_stage(spawning, last, date_days(list->from), due) ||
            strcmp(due->from, list->to) > 0)
            continue;
        text_copy(due->spawning, sizeof due->spawning, spawning->code);
        text_copy(due->variety, sizeof due->variety, spawning->variety);
        list->count++;
    }
    qsort(list->dues, list->count, sizeof *list->dues, compare_dues);
}

static bool set_paces(struct ledger *ledger, const struct source *source, struct due_list *list,
                      struct err *err)
{
    for (int stage = 0; stage < STAGE_COUNT; stage++) {
        int pace = 0;
        if (!measure_pace(ledger, source, (enum stage)stage, &pace, err))
            return false;
        for (size_t i = 0; i < list->count; i++)
            if ((int)list->dues[i].stage == stage)
                list->dues[i].pace = pace;
    }
    return true;
}

bool due_list_make(struct ledger *ledger, const char *day, int days, struct due_list *ret,
                   struct err *err)
{
    struct source source = {.spawnings = NULL};
    struct due_list list = {.dues = NULL};
    text_copy(list.from, sizeof list.from, day);
    date_text(date_days(day) + days, list.to);
    bool done = list_sources(ledger, &source, err);
    if (done) {
        find_dues(&source, &list);
        done = set_paces(ledger, &source, &list, err);
    }
    free_sources(&source);
    if (done)
        *ret = list;
    else
        free(list.dues);
    return done;
}
