/* A round's numbers: how many fish went in, were kept, rejected, found dead, and where the rejects
 * went. */
#ifndef SENBETSU_CORE_ROUND_H
#define SENBETSU_CORE_ROUND_H

#include "senbetsu/core/count.h"
#include "senbetsu/core/terms.h"

#include <stdint.h>

struct round_counts {
    struct count in, kept;
    int64_t rejected, dead; /* NOT_COUNTED */
    char day[11];           /* when, "" = not known */
    char note[NOTE_SIZE];
};

/* Nothing is known. */
void round_counts_init(struct round_counts *counts);

/* What is known once `said` has been said as well, each number by count_apply. What is not said
 * stays. */
void round_counts_apply(struct round_counts *known, const struct round_counts *said);

/* Are both numbers of the round known? */
bool round_counts_whole(const struct round_counts *counts);

/* Fish rejected: as they were counted, else what is left of those that went in; NOT_COUNTED where
 * that cannot be told. */
int64_t round_counts_rejected(const struct round_counts *counts);

bool round_counts_equal(const struct round_counts *a, const struct round_counts *b);

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
