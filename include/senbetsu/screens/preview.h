/* A pass being tried out: thresholds and places are moved, and every fish is decided anew at once.
 * Nothing is recorded here. */
#ifndef SENBETSU_SCREENS_PREVIEW_H
#define SENBETSU_SCREENS_PREVIEW_H

#include "senbetsu/core/judgement.h"

struct preview_fish {
    int bowl, number;
    struct judgement judgement; /* the one that decides */
    enum verdict standing;      /* as the fish stands now: what a change is counted against */
    char by_hand[REASON_SIZE];  /* the whole reason of a verdict changed by hand, "" = none */
};

enum preview_dial { DIAL_KEEP_AT, DIAL_HOLD_AT, DIAL_PLACES, DIAL_COUNT };

enum { NO_PLACES = -1 };

struct preview {
    struct standard standard; /* with the thresholds as they are moved */
    int places;               /* NO_PLACES = no limit */
    int keep_at, hold_at;     /* as the standard came */

    struct preview_fish *fish;
    size_t count;
    struct decision *decisions; /* of the same fish */
    size_t *order;              /* best first, those without a score last, by bowl and number */
    size_t *changed;            /* fish that would change side, in that order */
    size_t changed_count;
    size_t first_out; /* the first in order for whom there was no place; `count` = none */
    int verdicts[VERDICT_COUNT];
};

/* The fish are copied. */
void preview_init(struct preview *preview, const struct standard *standard, int places,
                  const struct preview_fish *fish, size_t count);
void preview_done(struct preview *preview);

/* Moves a dial by `steps`: half a point or one place each. keep_at pushes hold_at down before it,
 * hold_at stops at keep_at; places go from 0 to the number of fish, and below 0 there is no limit.
 */
void preview_turn(struct preview *preview, enum preview_dial dial, int steps);

/* Have the thresholds been moved? Then recording makes a new version of the standard. */
bool preview_moved(const struct preview *preview);

#endif
