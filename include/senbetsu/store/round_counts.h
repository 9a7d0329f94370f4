/* The numbers of rounds, as they were stated and as they were tallied. Statements are only ever
 * added. */
#ifndef SENBETSU_STORE_ROUND_COUNTS_H
#define SENBETSU_STORE_ROUND_COUNTS_H

#include "senbetsu/core/round.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/store/ledger.h"

/* What was stated of a round: round_counts_apply in the order in which it was. Fish judged one by
 * one are not among it. */
bool round_counts_get(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                      struct err *err);

/* The number of the round's lot: as it was stated, else the fish expected (the method is then not
 * said); NOT_COUNTED where neither is known. */
bool tally_lot(struct ledger *ledger, int64_t round_id, struct count *ret, struct err *err);

/* The numbers tallied in a round, settled by its manner and the number of its lot (core/tally.h),
 * with the first and last day on which something was tallied. */
bool tally_totals(struct ledger *ledger, int64_t round_id, struct tally_totals *ret,
                  struct err *err);

/* What is known of a round: what was stated, and where nothing was, what was tallied in it
 * (store/tallies.h). Of a round whose numbers in and kept were both stated, nothing is taken from
 * the tally. */
bool round_counts_known(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                        struct err *err);

/* Adds a statement where it changes what is known. ERR_INPUT where count_check refuses a number or
 * the day is none. */
bool round_counts_record(struct ledger *ledger, int64_t round_id, const struct round_counts *said,
                         int64_t judge, enum saved *ret_saved, struct err *err);

/* The numbers of one round as rates take them. What was not stated of a round comes from the fish
 * judged in it: in = those judged, kept = those whose latest decision is keep (the latest pass',
 * else as they stand), rejected likewise, counted; or from its tally (store/tallies.h). */
struct round_figures {
    int64_t round_id, lot_id;
    enum stage stage;
    struct count in, kept;
    bool in_so_far;         /* `in` are the fish judged so far, and nobody said that they are all */
    int64_t done, whole;    /* at work: so many fish of all that it is known to hold are judged, one
                               by one or tallied on both sides; `whole` 0 = not known to be so */
    int64_t covariance;     /* by the errors of both, as struct tally_totals has it */
    int64_t rejected, dead; /* NOT_COUNTED */
    char day[11]; /* as stated, else the first one on which fish were tallied or judged; "" = not
                     known */
};

/* Of all rounds, in no particular order. */
bool round_figures_list(struct ledger *ledger, struct round_figures **ret, size_t *ret_count,
                        struct err *err);

#endif
