/* Where the rejects of rounds went. Numbers are only ever added; of each fate the last one counts.
 */
#ifndef SENBETSU_STORE_REJECT_FATES_H
#define SENBETSU_STORE_REJECT_FATES_H

#include "senbetsu/core/round.h"
#include "senbetsu/store/ledger.h"

/* As they were stated; core/round.h settles them. */
bool reject_fates_get(struct ledger *ledger, int64_t round_id, struct fates *ret, struct err *err);

/* Says of every fate how many it was; adds those that are others than was known. More fish than
 * were rejected are taken: whoever settles them sees it. ERR_INPUT where a number is below 0 or
 * above FISH_MOST. */
bool reject_fates_record(struct ledger *ledger, int64_t round_id, const struct fates *said,
                         int64_t judge, enum saved *ret_saved, struct err *err);

#endif
