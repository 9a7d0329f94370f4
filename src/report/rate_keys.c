#include "senbetsu/report/rate_keys.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

const struct term rates_by_terms[BY_COUNT] = {
    [BY_LOT] = {"lot", "fish kept together in one pond"},
    [BY_SPAWNING] = {"spawning", "one dam's eggs of one day"},
    [BY_PAIR] = {"pair", "a dam with her sire, or her group of sires"},
    [BY_SEASON] = {"season", "the year of the spawning"},
    [BY_VARIETY] = {"variety", "what the young are to be"},
};

/* A lot with the key it counts for. */
struct keyed {
    char *text;
    const struct lot_origin *lot;
    int season; /* that keeps keys of the same text apart; 0 where they are one over all seasons */
    int index;
};

/* "DAM+SIRE" or "DAM+SIRE;SIRE": the sires of a group stand together. */
static bool add_pair(const struct lot_origin *lot, struct text *out)
{
    if (lot->mixed || lot->dam[0] == '\0' || lot->sires[0] == '\0')
        return false;
    text_addf(out, "%s+%s", lot->dam, lot->sires);
    return true;
}

/* False where the lot counts for none. */
static bool add_key(enum rates_by by, const struct lot_origin *lot, struct text *out)
{
    switch (by) {
    case BY_LOT:
        text_add(out, lot->lot);
        return true;
    case BY_SPAWNING:
        text_add(out, lot->spawnings);
        return !lot->mixed;
    case BY_PAIR:
        return add_pair(lot, out);
    case BY_SEASON:
        text_addf(out, "%d", lot->season);
        return lot->season != 0;
    case BY_VARIETY:
        text_add(out, lot->variety);
        return lot->variety[0] != '\0';
    case BY_COUNT:
        break;
    }
    return false;
}

static int compare(const struct keyed *a, const struct keyed *b)
{
    if (a->season != b->season)
        return a->season < b->season ? -1 : 1;
    int texts = strcmp(a->text, b->text);
    return texts;
}

/* Lots of different spawnings may have the same name. */
static int compare_places(const void *left, const void *right)
{
    const struct keyed *a = left;
    const struct keyed *b = right;
    int order = compare(a, b);
    if (order == 0)
        order = strcmp(a->lot->spawnings, b->lot->spawnings);
    return order != 0 ? order : (a->index > b->index) - (a->index < b->index);
}

static size_t list_keyed(enum rates_by by, const struct lot_origin *lots, size_t count,
                         struct keyed *ret)
{
    bool over_seasons = by == BY_PAIR || by == BY_VARIETY;
    size_t keyed = 0;
    struct text text;
    text_init(&text);
    for (size_t i = 0; i < count; i++) {
        text_clear(&text);
        if (!add_key(by, &lots[i], &text))
            continue;
        ret[keyed++] = (struct keyed){.text = alloc_text(text.data),
                                      .lot = &lots[i],
                                      .season = over_seasons ? 0 : lots[i].season,
                                      .index = (int)i};
    }
    text_done(&text);
    qsort(ret, keyed, sizeof *ret, compare_places);
    return keyed;
}

static bool is_same_key(enum rates_by by, const struct keyed *a, const struct keyed *b)
{
    return by != BY_LOT && compare(a, b) == 0;
}

void rate_keys_init(struct rate_keys *keys, enum rates_by by, const struct lot_origin *lots,
                    size_t count)
{
    struct keyed *keyed = alloc_zeroed(count, sizeof *keyed);
    size_t found = list_keyed(by, lots, count, keyed);
    *keys = (struct rate_keys){.list = alloc_zeroed(found, sizeof *keys->list),
                               .of = alloc_zeroed(count, sizeof *keys->of)};
    for (size_t i = 0; i < count; i++)
        keys->of[i] = NO_KEY;
    for (size_t i = 0; i < found; i++) {
        struct rate_key *last = keys->count > 0 ? &keys->list[keys->count - 1] : NULL;
        if (last == NULL || !is_same_key(by, &keyed[i - 1], &keyed[i]))
            keys->list[keys->count++] =
                (struct rate_key){.text = alloc_text(keyed[i].text),
                                  .spawnings = by == BY_LOT ? keyed[i].lot->spawnings : "",
                                  .season = keyed[i].lot->season};
        else if (last->season != keyed[i].lot->season)
            last->season = 0;
        keys->of[keyed[i].index] = (int)keys->count - 1;
    }
    for (size_t i = 0; i < found; i++)
        free(keyed[i].text);
    free(keyed);
}

void rate_keys_done(struct rate_keys *keys)
{
    for (size_t i = 0; i < keys->count; i++)
        free(keys->list[i].text);
    free(keys->list);
    free(keys->of);
}
