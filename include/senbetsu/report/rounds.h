/* What a round comes to: how far it is, and its numbers, whichever way they were made. Screens,
 * rates, the replay of the lots and the season book all stand on these, so that no two of them can
 * differ on a round. A summary is read from what the ledger keeps ready, at each key of the sheet;
 * figures weigh the decisions on every fish, for all rounds at once. */
#ifndef SENBETSU_REPORT_ROUNDS_H
#define SENBETSU_REPORT_ROUNDS_H

#include "senbetsu/core/round.h"
#include "senbetsu/store/rounds.h"

/* How far a round is: one line of an overview. */
struct round_summary {
    struct round round;
    int bowls;
    /* Standing now, or as tallied. Expected: what the round says, else what its bowls hold
     * (store/rounds.h); 0 = not known. */
    struct verdict_counts tally;
    bool stated; /* of a round that is not judged: both its numbers were stated */
    char first_day[11], last_day[11]; /* of its judgements, local, "" = none */
};

/* ERR_ABSENT where there is no such round. */
bool round_summary_get(struct ledger *ledger, int64_t id, struct round_summary *ret,
                       struct err *err);

/* Of a spawning, or of all (NULL): by season, spawning, stage, lot. */
bool round_summary_list(struct ledger *ledger, const char *spawning, struct round_summary **ret,
                        size_t *ret_count, struct err *err);

/* What is known of a round: what was stated, and where nothing was, what was tallied in it
 * (store/tallies.h). Of a round whose numbers in and kept were both stated, nothing is taken from
 * the tally. */
bool round_counts_known(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                        struct err *err);

/* Fish rejected in a round: as stated or tallied, else those that were judged so, as they stand;
 * NOT_COUNTED where none of it is known. */
bool round_rejected(struct ledger *ledger, int64_t round_id, int64_t *ret, struct err *err);

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
