/* The first look: how many of some fish are good, what that says of the lot, and the pilot rule. */
#ifndef SENBETSU_SCREENS_FIRST_LOOK_VIEW_H
#define SENBETSU_SCREENS_FIRST_LOOK_VIEW_H

#include "senbetsu/core/count.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/ui/frame.h"

enum first_look_action {
    FIRST_LOOK_GOOD,
    FIRST_LOOK_NOT_GOOD,
    FIRST_LOOK_UNDO,
    FIRST_LOOK_MORE, /* keypad: the next digit names anything else */
    FIRST_LOOK_BACK, /* to the fish */
    FIRST_LOOK_HELP,
    FIRST_LOOK_LEAVE,
};

struct first_look_view {
    char title[2 * NOTE_SIZE];
    const char *judge;
    struct first_look look;
    char interval[32];           /* of the share of good fish: "48.1 to 85.5 %" */
    struct count lot;            /* the fish of the lot */
    int64_t good_low, good_high; /* good ones among them, with the error of their number */
    const char *last_key;        /* "good", "not good"; NULL = none yet */
    bool more;                   /* FIRST_LOOK_MORE was pressed */
    const char *message;
    bool alert;
};

enum context first_look_context(const struct first_look_view *view);

void first_look_draw(struct grid *grid, const struct first_look_view *view);

#endif
