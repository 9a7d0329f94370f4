/* The closer look: a tie for the last places is decided by a person. Where fish wait in cells each
 * can be found: the tied ones come up one after another and are taken (keep by hand) or left (hold
 * by hand). In basins a fish has no number any more: the hold basin is gone through again and so
 * many are picked out of it. Every key is on disk when its call returns. */
#ifndef SENBETSU_REPORT_CLOSER_LOOK_H
#define SENBETSU_REPORT_CLOSER_LOOK_H

#include "senbetsu/report/pass.h"

struct closer_look {
    struct pass_run run; /* what is tried, decided anew after every key */

    /* Indexes in the run, by bowl and number: the fish that tie, those that were taken and left for
     * a tie, and those of the same score for whom no place is left since. */
    size_t *fish;
    size_t count;
    int taken, left;

    /* In basins, without those that were picked: held fish that lie elsewhere than in the keep
     * basin; and fish that tie and lie in the keep basin, since that was their verdict when they
     * were judged. */
    int in_hold, in_keep;
};

/* The tie of a pass that is tried: its standard and places count, the round is read anew. */
bool closer_look_load(struct ledger *ledger, const struct pass_run *tried, struct closer_look *ret,
                      struct err *err);
void closer_look_done(struct closer_look *look);

/* All that is known of the fish at this place of `fish`. */
bool closer_look_fish(struct ledger *ledger, const struct closer_look *look, size_t at,
                      struct fish *ret, struct err *err);

/* Is the fish at this place of `fish` decided, and how? VERDICT_OPEN = not yet. */
enum verdict closer_look_verdict(const struct closer_look *look, size_t at);

/* In cells. Each is one transaction with the place; then `look` is as the ledger has it. */

/* Takes (VERDICT_KEEP) or leaves (VERDICT_HOLD) a fish. ERR_INPUT where no place is left for it or
 * it was judged anew meanwhile. */
bool closer_look_decide(struct ledger *ledger, struct closer_look *look, int64_t fish,
                        enum verdict verdict, int64_t judge, const struct place *place,
                        struct err *err);

/* Leaves all that are not decided. */
bool closer_look_leave_rest(struct ledger *ledger, struct closer_look *look, int64_t judge,
                            const struct place *place, struct err *err);

/* Takes back what was decided last, and says of which fish. ERR_ABSENT where nothing was. */
bool closer_look_undo(struct ledger *ledger, struct closer_look *look, int64_t judge,
                      const struct place *place, int64_t *ret_fish, struct err *err);

/* In basins, likewise. */

/* One more fish is picked out of the hold basin. ERR_INPUT where no place is left or none is held.
 */
bool closer_look_pick(struct ledger *ledger, struct closer_look *look, int64_t judge,
                      const struct place *place, struct err *err);

/* One of them is put back. */
bool closer_look_put_back(struct ledger *ledger, struct closer_look *look, int64_t judge,
                          const struct place *place, struct err *err);

/* Fish that tie and lie in the keep basin stay there, as many as there are places; how many. Where
 * some stay already, all of these are taken back instead: below 0, so many. */
bool closer_look_stay(struct ledger *ledger, struct closer_look *look, int64_t judge,
                      const struct place *place, int *ret_fish, struct err *err);

#endif
