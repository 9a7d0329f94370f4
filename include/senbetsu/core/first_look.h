/* A first look: some fish of a lot, taken at random before a cull begins, are called good or not.
 */
#ifndef SENBETSU_CORE_FIRST_LOOK_H
#define SENBETSU_CORE_FIRST_LOOK_H

#include <stdbool.h>
#include <stdint.h>

/* The pilot rule: fish in a dish, of which fewer than LOOK_POOR good ones are a poor sign and
 * LOOK_RICH or more a very good one. Told by goldfish keepers; see docs/first-look.md. */
enum {
    LOOK_DISH = 20,
    LOOK_DISHES = 2,
    LOOK_BOTH = LOOK_DISHES * LOOK_DISH,
    LOOK_POOR = 5,
    LOOK_RICH = 7
};

struct first_look {
    int64_t looked_at, good;
    int good_in_dish[LOOK_DISHES];    /* of the first LOOK_DISH fish, and of those after them */
    char first_day[11], last_day[11]; /* "" = nothing was looked at; the ledger fills them */
};

/* The next fish. */
void first_look_add(struct first_look *look, bool good);

/* What the pilot rule says. It is advice and reads no more than the first two dishes. */
enum first_look_advice {
    LOOK_UNFINISHED,   /* the first dish is not full yet */
    LOOK_AGAIN,        /* it was poor, and the second is not full yet */
    LOOK_HARDLY_WORTH, /* both were poor */
    LOOK_AS_PLANNED,
    LOOK_MORE_ROOM, /* the first was rich: more good fish than planned for */
};

enum first_look_advice first_look_advice(const struct first_look *look);

/* Fish still to look at until the rule can say what to do, 0 = it does. */
int64_t first_look_missing(const struct first_look *look);

#endif
