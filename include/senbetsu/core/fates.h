/* Where the rejects of a round went, in numbers. */
#ifndef SENBETSU_CORE_FATES_H
#define SENBETSU_CORE_FATES_H

#include "senbetsu/core/terms.h"
#include <stdint.h>

/* Fish by fate. As they are stated none are FATE_UNDECIDED and `over` is 0. */
struct fates {
    int64_t fish[FATE_COUNT];
    int64_t over; /* that went somewhere beyond those that were rejected: a number is wrong */
};

/* Is it known of any fish where it went? */
bool fates_any(const struct fates *fates);
bool fates_equal(const struct fates *a, const struct fates *b);

/* What is left of `rejected` fish goes to the round's own fate `rest`; where it has none, they are
 * FATE_UNDECIDED. Nothing is left of rejects that nobody counted (NOT_COUNTED). */
void fates_settle(struct fates *fates, int64_t rejected, enum fate rest);

void fates_add(struct fates *total, const struct fates *more);

#endif
