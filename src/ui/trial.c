#include "senbetsu/ui/trial.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

enum { STEP = 50, FULL = 100 * 100 }; /* hundredths of a point */

/* A fish's place in the order: worked out once, as no dial changes a score. */
struct place_in_order {
    size_t index;
    int rank;
    int bowl, number;
};

static int compare_places(const void *left, const void *right)
{
    const struct place_in_order *a = left, *b = right;
    if (a->rank != b->rank)
        return a->rank == 0 ? 1 : b->rank == 0 ? -1 : a->rank - b->rank;
    return a->bowl != b->bowl ? a->bowl - b->bowl : a->number - b->number;
}

static void decide(struct trial *trial)
{
    struct judgement *judgements = alloc_zeroed(trial->count + 1, sizeof *judgements);
    for (size_t i = 0; i < trial->count; i++)
        judgements[i] = trial->fish[i].judgement;
    round_decide(&trial->standard, judgements, trial->count, trial->places, trial->decisions);
    free(judgements);
}

static void put_in_order(struct trial *trial)
{
    struct place_in_order *places = alloc_zeroed(trial->count + 1, sizeof *places);
    for (size_t i = 0; i < trial->count; i++)
        places[i] = (struct place_in_order){i, trial->decisions[i].rank, trial->fish[i].bowl,
                                            trial->fish[i].number};
    qsort(places, trial->count, sizeof *places, compare_places);
    for (size_t i = 0; i < trial->count; i++)
        trial->order[i] = places[i].index;
    free(places);
}

static void count(struct trial *trial)
{
    memset(trial->verdicts, 0, sizeof trial->verdicts);
    trial->changed_count = 0;
    trial->first_out = trial->count;
    for (size_t i = 0; i < trial->count; i++) {
        size_t index = trial->order[i];
        const struct decision *decision = &trial->decisions[index];
        trial->verdicts[decision->verdict]++;
        if (decision->verdict != trial->fish[index].standing)
            trial->changed[trial->changed_count++] = index;
        if (decision->reason == REASON_PLACES && trial->first_out == trial->count)
            trial->first_out = i;
    }
}

void trial_init(struct trial *trial, const struct standard *standard, int places,
                const struct trial_fish *fish, size_t fish_count)
{
    *trial = (struct trial){.standard = *standard,
                            .places = places,
                            .keep_at = standard->keep_at,
                            .hold_at = standard->hold_at,
                            .count = fish_count};
    trial->fish = alloc_zeroed(fish_count + 1, sizeof *trial->fish);
    for (size_t i = 0; i < fish_count; i++)
        trial->fish[i] = fish[i];
    trial->decisions = alloc_zeroed(fish_count + 1, sizeof *trial->decisions);
    trial->order = alloc_zeroed(fish_count + 1, sizeof *trial->order);
    trial->changed = alloc_zeroed(fish_count + 1, sizeof *trial->changed);
    decide(trial);
    put_in_order(trial);
    count(trial);
}

void trial_done(struct trial *trial)
{
    free(trial->fish);
    free(trial->decisions);
    free(trial->order);
    free(trial->changed);
    *trial = (struct trial){0};
}

static int within(int number, int lowest, int highest)
{
    return number < lowest ? lowest : number > highest ? highest : number;
}

void trial_turn(struct trial *trial, enum trial_dial dial, int steps)
{
    struct standard *standard = &trial->standard;
    switch (dial) {
    case DIAL_KEEP_AT:
        standard->keep_at = within(standard->keep_at + STEP * steps, 0, FULL);
        standard->hold_at = within(standard->hold_at, 0, standard->keep_at);
        break;
    case DIAL_HOLD_AT:
        standard->hold_at = within(standard->hold_at + STEP * steps, 0, standard->keep_at);
        break;
    case DIAL_PLACES:
        trial->places = within(trial->places + steps, NO_PLACES, (int)trial->count);
        break;
    case DIAL_COUNT:
        break;
    }
    decide(trial);
    count(trial);
}

bool trial_moved(const struct trial *trial)
{
    return trial->standard.keep_at != trial->keep_at || trial->standard.hold_at != trial->hold_at;
}
