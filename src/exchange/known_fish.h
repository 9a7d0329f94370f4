/* The fish of the rounds that a file speaks of, as the ledger knows them and as the file's own rows
 * change them: one view of every fish for what decides it, one more for each judge who checked it.
 */
#ifndef EXCHANGE_KNOWN_FISH_H
#define EXCHANGE_KNOWN_FISH_H

#include "senbetsu/store/fish.h"

struct known_key {
    int64_t round;
    int bowl, number;
};

enum { NO_CHECKER = -1 };

struct known_view {
    struct known_key key;
    int64_t checker; /* the judge whose check this is; NO_CHECKER = what decides the fish */
    int64_t decider; /* of the deciding view: whose judgement it is; 0 = not said */
    struct fish fish;
    bool is_new; /* first met in this file */
    int line;    /* the file's line that spoke of it, 0 = none yet */
};

struct known_fish {
    struct known_view **slots; /* a hash table, never more than half full */
    size_t slot_count, view_count;
    struct known_bowl *bowls;
    size_t bowl_count, bowl_capacity;
};

void known_fish_init(struct known_fish *known);
void known_fish_done(struct known_fish *known);

/* Reads what the ledger knows of a round. */
bool known_fish_load(struct known_fish *known, struct ledger *ledger, int64_t round,
                     const struct standard *standard, struct err *err);

/* The view that a row of `judge` belongs to: the deciding one, or a check where another judge has
 * judged the fish. A row without a judge (0) belongs to whoever judged. The fish, and its bowl, are
 * added to the ledger where they are not there yet. */
bool known_fish_view(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                     int64_t judge, const char *day, struct known_view **ret, struct err *err);

#endif
