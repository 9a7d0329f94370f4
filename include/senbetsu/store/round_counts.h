/* The numbers of rounds and the fates of their rejects, as they were stated, and as they were
 * tallied. Statements are only ever added. */
#ifndef SENBETSU_STORE_ROUND_COUNTS_H
#define SENBETSU_STORE_ROUND_COUNTS_H

#include "senbetsu/core/round.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/store/ledger.h"

/* What was stated of a round: round_counts_apply in the order in which it was. Fish judged one by
 * one are not among it. */
bool round_counts_get(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                      struct err *err);

/* The same of all rounds that are not retired, by id. Of those that are not bare the rest is left
 * to the caller. */
bool cull_numbers_stated(struct ledger *ledger, struct cull_numbers **ret, size_t *ret_count,
                         struct err *err);

/* The number of the round's lot: as it was stated, else the fish expected (the method is then not
 * said); NOT_COUNTED where neither is known. */
bool tally_lot(struct ledger *ledger, int64_t round_id, struct count *ret, struct err *err);

/* The numbers tallied in a round, settled by its manner and the number of its lot (core/tally.h),
 * with the first and last day on which something was tallied. */
bool tally_totals(struct ledger *ledger, int64_t round_id, struct tally_totals *ret,
                  struct err *err);

/* Adds a statement where it changes what is known. ERR_INPUT where count_check refuses a number or
 * the day is none. */
bool round_counts_record(struct ledger *ledger, int64_t round_id, const struct round_counts *said,
                         int64_t judge, enum saved *ret_saved, struct err *err);

/* Where the rejects of a round went: of each fate the last number stated counts. As they were
 * stated; core/round.h settles them. */
bool reject_fates_get(struct ledger *ledger, int64_t round_id, struct fates *ret, struct err *err);

/* Says of every fate how many it was; adds those that are others than was known. More fish than
 * were rejected are taken: whoever settles them sees it. ERR_INPUT where a number is below 0 or
 * above FISH_MOST. */
bool reject_fates_record(struct ledger *ledger, int64_t round_id, const struct fates *said,
                         int64_t judge, enum saved *ret_saved, struct err *err);

#endif
