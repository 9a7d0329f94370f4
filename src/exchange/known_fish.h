/* The fish that a file's rows speak of: one view of each for what decides it, one more for each
 * judge who checks it. */
#ifndef EXCHANGE_KNOWN_FISH_H
#define EXCHANGE_KNOWN_FISH_H

#include "mentions.h"
#include "senbetsu/store/fish.h"

struct known_key {
    int64_t round;
    int bowl, number;
};

enum { NO_CHECKER = 0 };

/* A fish as the ledger has it, with all that earlier rows of the file did. */
struct known_view {
    int64_t checker; /* the judge whose check this is; NO_CHECKER = what decides the fish */
    int64_t decider; /* of the deciding view: whose judgement it is; 0 = not said */
    struct fish fish;
    bool is_new; /* first met in this file */
    int line;    /* the file's line that spoke of it, 0 = none yet */
};

struct known_fish {
    struct mentions mentions;
    int64_t round, bowl_id; /* the bowl of the last row */
    int bowl;
    int highest; /* where that row began it: the highest of its fish so far; else INT_MAX */
};

void known_fish_init(struct known_fish *known);
void known_fish_done(struct known_fish *known);

/* The view that a row of `judge` belongs to: the deciding one, or a check where another judge has
 * judged the fish. A row without a judge (0) belongs to whoever judged. The bowl is added to the
 * ledger where it is not there yet; a fish that is not there has the id 0. */
bool known_fish_view(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                     const struct standard *standard, int64_t judge, const char *day,
                     struct known_view *ret, struct err *err);

/* Keeps the view's line and decider: its row has been taken. */
void known_fish_take(struct known_fish *known, const struct known_view *view);

#endif
