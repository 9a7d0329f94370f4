/* A hash table with open addressing and linear probing; it doubles before it is more than half
 * full. Nothing is ever taken out of it, so it needs no marks for deleted slots. Slots hold places
 * in an array, which is what keeps a file of a million rows small. */
#include "mentions.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

/* Any mixing of the two numbers will do; this one multiplies by a large odd number. */
static size_t hash_of(int64_t of, int64_t by)
{
    uint64_t hash = (uint64_t)of * UINT64_C(0x9E3779B97F4A7C15);
    hash = (hash ^ hash >> 32 ^ (uint64_t)by) * UINT64_C(0x9E3779B97F4A7C15);
    return (size_t)(hash ^ hash >> 32);
}

/* The slot that leads to it, or an empty one where it would go. */
static uint32_t *slot_of(const struct mentions *mentions, int64_t of, int64_t by)
{
    size_t at = hash_of(of, by) & (mentions->slot_count - 1);
    for (; mentions->slots[at] != 0; at = (at + 1) & (mentions->slot_count - 1)) {
        const struct mention *mention = &mentions->all[mentions->slots[at] - 1];
        if (mention->of == of && mention->by == by)
            break;
    }
    return &mentions->slots[at];
}

static void resize(struct mentions *mentions, size_t slot_count)
{
    free(mentions->slots);
    mentions->slots = alloc_zeroed(slot_count, sizeof *mentions->slots);
    mentions->slot_count = slot_count;
    for (size_t i = 0; i < mentions->count; i++)
        *slot_of(mentions, mentions->all[i].of, mentions->all[i].by) = (uint32_t)i + 1;
}

void mentions_init(struct mentions *mentions)
{
    enum { FIRST_SLOTS = 256 }; /* a power of two, as every later size is */
    *mentions = (struct mentions){0};
    resize(mentions, FIRST_SLOTS);
}

void mentions_done(struct mentions *mentions)
{
    free(mentions->all);
    free(mentions->slots);
}

const struct mention *mention_find(const struct mentions *mentions, int64_t of, int64_t by)
{
    uint32_t at = *slot_of(mentions, of, by);
    return at != 0 ? &mentions->all[at - 1] : NULL;
}

void mention_add(struct mentions *mentions, struct mention mention)
{
    mentions->all =
        alloc_room(mentions->all, mentions->count, &mentions->capacity, sizeof *mentions->all);
    mentions->all[mentions->count++] = mention;
    if (2 * mentions->count > mentions->slot_count)
        resize(mentions, 2 * mentions->slot_count);
    else
        *slot_of(mentions, mention.of, mention.by) = (uint32_t)mentions->count;
}
