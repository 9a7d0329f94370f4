/* A cull list's bowls, one after another, each with its fish, its counts and its gaps. */
#ifndef SENBETSU_PRINT_CULL_BOWL_H
#define SENBETSU_PRINT_CULL_BOWL_H

#include "senbetsu/print/cull_list.h"

struct bowl_fish {
    int number;
    int expected;                /* 0 = not known */
    const struct fish_row *fish; /* by number */
    size_t count;
};

/* Walks a round's bowls by number, those without fish and those that only fish name included.
 * `*walk` starts as {0}; false after the last bowl. */
struct bowl_walk {
    size_t bowl, fish;
};
bool bowl_walk_next(const struct cull_round *round, struct bowl_walk *walk, struct bowl_fish *ret);

/* Numbers up to `expected` that no fish bears: runs of them, in order. `*gap` starts as {0}; false
 * after the last run. */
struct bowl_gap {
    size_t at; /* the walk's own */
    int first, last;
};
bool bowl_gap_next(const struct bowl_fish *bowl, struct bowl_gap *gap);

struct cull_count {
    int fish[VERDICT_COUNT];
    int unseen; /* expected and never looked at */
    int since;  /* judged after the pass */
};
void cull_count_add(struct cull_count *count, const struct bowl_fish *bowl);

/* Of fish expected in the round and in no bowl, too, nobody has looked at any. */
struct cull_count cull_count_round(const struct cull_round *round);

/* Begun and left open, or never looked at. */
int cull_not_judged(const struct cull_count *count);

/* "13–20, 25" */
void cull_unseen_text(const struct bowl_fish *bowl, struct text *out);

/* "take out 12, look again 2, keep 5, not judged 1: 20 in all" */
void cull_count_text(const struct cull_count *count, struct text *out);

#endif
