/* Bringing a ledger to the layout this program works with. */
#ifndef STORE_MIGRATE_H
#define STORE_MIGRATE_H

#include "private.h"

/* The layout a ledger has: 0 = nothing in it yet. */
bool migrate_version(struct ledger *ledger, int *ret, struct err *err);

/* Takes all steps that are still to take, in one transaction, each with its audit row. */
bool migrate(struct ledger *ledger, const struct migration *steps, int count, struct err *err);

/* Do the steps that made this ledger have the checksums of this program's? */
bool migrate_check(struct ledger *ledger, const struct migration *steps, int count,
                   struct err *err);

#endif
