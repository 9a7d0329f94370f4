/* The first look: how many of some fish are good, what that says of the lot, and the pilot rule. */
#ifndef SENBETSU_SCREENS_FIRST_LOOK_VIEW_H
#define SENBETSU_SCREENS_FIRST_LOOK_VIEW_H

#include "senbetsu/core/count.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/ui/frame.h"

struct first_look_view {
    char title[2 * NOTE_SIZE];
    const char *judge;
    struct first_look look;
    char interval[32];           /* of the share of good fish: "48.1 to 85.5 %" */
    struct count lot;            /* the fish of the lot */
    int64_t good_low, good_high; /* good ones among them, with the error of their number */
    const char *last_key;        /* "good", "not good"; NULL = none yet */
    bool more;                   /* the next digit names anything else */
    const char *message;
    bool alert;
};

const struct key_table *first_look_table(const struct first_look_view *view);

void first_look_draw(struct grid *grid, const struct first_look_view *view);

#endif
