/* What a round comes to: its numbers, whichever way they were made. Rates, the replay of the lots
 * and the season book all stand on these, so that no two of them can differ on a round. */
#ifndef SENBETSU_REPORT_ROUNDS_H
#define SENBETSU_REPORT_ROUNDS_H

#include "senbetsu/core/round.h"
#include "senbetsu/store/ledger.h"

/* The numbers of one round. What was not stated of it comes from its tally (store/tallies.h), or
 * from the fish judged in it: in = those judged, kept = those whose latest decision is keep (the
 * latest pass', else as they stand), rejected likewise, counted. */
struct round_figures {
    int64_t round_id, lot_id;
    enum stage stage;
    struct round_counts counts; /* its day: as stated, else the first one on which fish were tallied
                                   or judged */
    bool in_so_far; /* what went in are the fish judged so far, and nobody said that they are all */
    int64_t done, whole; /* at work: so many fish of all that it is known to hold are judged, one by
                            one or tallied on both sides; `whole` 0 = not known to be so */
    int64_t covariance;  /* by the errors of in and kept, as struct tally_totals has it */
};

/* Of all rounds, in no particular order. */
bool round_figures_list(struct ledger *ledger, struct round_figures **ret, size_t *ret_count,
                        struct err *err);

#endif
