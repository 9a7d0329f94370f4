/* Brood fish. */
#ifndef SENBETSU_STORE_PARENTS_H
#define SENBETSU_STORE_PARENTS_H

#include "senbetsu/core/parent.h"
#include "senbetsu/store/ledger.h"

/* Adds the parent or changes the one with this code; every changed field goes into the audit
 * log (from, to, when, who, why). Empty fields never overwrite what is known. A dam must not be
 * male, a sire not female, nobody its own ancestor (refused by name). Dam and sire must be in the
 * ledger, its variety in the list (in any spelling; ERR_ABSENT). */
bool parent_save(struct ledger *ledger, const struct parent *parent, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err);

/* Makes the parent of this id what is said, its code included; what is empty becomes unknown.
 * Refuses what parent_save does, and the code of another. */
bool parent_change(struct ledger *ledger, const struct parent *parent, int64_t judge,
                   const char *why, enum saved *ret_saved, struct err *err);

/* ERR_ABSENT where there is none. */
bool parent_get(struct ledger *ledger, const char *code, struct parent *ret, struct err *err);

/* Is this parent in the ledger and not known to be of the other sex? */
bool parent_serves(struct ledger *ledger, const char *code, bool as_dam, struct err *err);

/* By code. The caller frees `*ret` with free(). */
bool parent_list(struct ledger *ledger, struct parent **ret, size_t *ret_count, struct err *err);

#endif
