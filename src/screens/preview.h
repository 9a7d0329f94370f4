/* A pass being tried out: thresholds and places are moved, and every fish is decided anew at once.
 * Nothing is recorded here, and no ledger is needed but to read the round anew, so that it is
 * tested without one. */
#ifndef SENBETSU_SCREENS_PREVIEW_H
#define SENBETSU_SCREENS_PREVIEW_H

#include "senbetsu/report/pass.h"

enum preview_dial { DIAL_KEEP_AT, DIAL_HOLD_AT, DIAL_PLACES, DIAL_COUNT };

enum { NO_PLACES = -1 };

struct preview {
    struct pass_run run; /* thresholds and places as they are moved */
    enum verdict
        *before_trial; /* of the same fish before the trial: what a change is counted against */
    uint32_t *changed; /* fish that would change side, best first */
    size_t changed_count;
    size_t
        first_out; /* the first in order for whom there was no place; the number of fish = none */
    struct verdict_counts before, now; /* with the fish that were picked in basins */
};

/* Takes over the run, which has been decided once. */
void preview_init(struct preview *preview, const struct pass_run *run);
void preview_done(struct preview *preview);

/* Reads the round anew; the dials stay where they are. On failure nothing changes. */
bool preview_reload(struct preview *preview, struct ledger *ledger, struct err *err);

/* Moves a dial by `steps`: half a point or one place each. keep_at pushes hold_at down before it,
 * hold_at stops at keep_at; places go from 0 to the number of fish, and below 0 there is no limit.
 */
void preview_turn(struct preview *preview, enum preview_dial dial, int steps);

/* Have the thresholds been moved? Then recording makes a new version of the standard. */
bool preview_moved(const struct preview *preview);

#endif
