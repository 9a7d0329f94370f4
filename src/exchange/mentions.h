/* What the rows of a file have spoken of so far, by the ids the ledger has for it: a round, a fish,
 * a judge's check of a fish. */
#ifndef EXCHANGE_MENTIONS_H
#define EXCHANGE_MENTIONS_H

#include <stddef.h>
#include <stdint.h>

struct mention {
    int64_t of, by; /* `by` tells apart what speaks of the same: 0 where nothing does */
    int64_t judge;  /* the caller's: who judged what it is of */
    int line;       /* the file's line that spoke of it */
};

struct mentions {
    struct mention *all; /* in the order in which they came */
    size_t count, capacity;
    uint32_t *slots; /* a hash table of places in `all`, from 1; never more than half full */
    size_t slot_count;
};

void mentions_init(struct mentions *mentions);
void mentions_done(struct mentions *mentions);

/* NULL where no row has spoken of it yet. Valid until the next one is added. */
const struct mention *mention_find(const struct mentions *mentions, int64_t of, int64_t by);

/* The caller has seen that it is not there yet. */
void mention_add(struct mentions *mentions, struct mention mention);

#endif
