#include "senbetsu/screens/preview.h"
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

static void decide(struct preview *preview)
{
    struct judgement *judgements = alloc_zeroed(preview->count + 1, sizeof *judgements);
    for (size_t i = 0; i < preview->count; i++)
        judgements[i] = preview->fish[i].judgement;
    round_decide(&preview->standard, judgements, preview->count, preview->places,
                 preview->decisions);
    free(judgements);
}

static void put_in_order(struct preview *preview)
{
    struct place_in_order *places = alloc_zeroed(preview->count + 1, sizeof *places);
    for (size_t i = 0; i < preview->count; i++)
        places[i] = (struct place_in_order){i, preview->decisions[i].rank, preview->fish[i].bowl,
                                            preview->fish[i].number};
    qsort(places, preview->count, sizeof *places, compare_places);
    for (size_t i = 0; i < preview->count; i++)
        preview->order[i] = places[i].index;
    free(places);
}

static void count(struct preview *preview)
{
    memset(preview->verdicts, 0, sizeof preview->verdicts);
    preview->changed_count = 0;
    preview->first_out = preview->count;
    for (size_t i = 0; i < preview->count; i++) {
        size_t index = preview->order[i];
        const struct decision *decision = &preview->decisions[index];
        preview->verdicts[decision->verdict]++;
        if (decision->verdict != preview->fish[index].standing)
            preview->changed[preview->changed_count++] = index;
        if (decision->reason == REASON_PLACES && preview->first_out == preview->count)
            preview->first_out = i;
    }
}

void preview_init(struct preview *preview, const struct standard *standard, int places,
                  const struct preview_fish *fish, size_t fish_count)
{
    *preview = (struct preview){.standard = *standard,
                                .places = places,
                                .keep_at = standard->keep_at,
                                .hold_at = standard->hold_at,
                                .count = fish_count};
    preview->fish = alloc_zeroed(fish_count + 1, sizeof *preview->fish);
    for (size_t i = 0; i < fish_count; i++)
        preview->fish[i] = fish[i];
    preview->decisions = alloc_zeroed(fish_count + 1, sizeof *preview->decisions);
    preview->order = alloc_zeroed(fish_count + 1, sizeof *preview->order);
    preview->changed = alloc_zeroed(fish_count + 1, sizeof *preview->changed);
    decide(preview);
    put_in_order(preview);
    count(preview);
}

void preview_done(struct preview *preview)
{
    free(preview->fish);
    free(preview->decisions);
    free(preview->order);
    free(preview->changed);
    *preview = (struct preview){0};
}

static int within(int number, int lowest, int highest)
{
    return number < lowest ? lowest : number > highest ? highest : number;
}

void preview_turn(struct preview *preview, enum preview_dial dial, int steps)
{
    struct standard *standard = &preview->standard;
    switch (dial) {
    case DIAL_KEEP_AT:
        standard->keep_at = within(standard->keep_at + STEP * steps, 0, FULL);
        standard->hold_at = within(standard->hold_at, 0, standard->keep_at);
        break;
    case DIAL_HOLD_AT:
        standard->hold_at = within(standard->hold_at + STEP * steps, 0, standard->keep_at);
        break;
    case DIAL_PLACES:
        preview->places = within(preview->places + steps, NO_PLACES, (int)preview->count);
        break;
    case DIAL_COUNT:
        break;
    }
    decide(preview);
    count(preview);
}

bool preview_moved(const struct preview *preview)
{
    return preview->standard.keep_at != preview->keep_at ||
           preview->standard.hold_at != preview->hold_at;
}
