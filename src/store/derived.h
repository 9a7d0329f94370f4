/* Whatever the ledger derives from what was recorded. */
#ifndef STORE_DERIVED_H
#define STORE_DERIVED_H

#include "query.h"

/* Works out anew what stands of every live fish, and the counters of bowls and rounds. Inside a
 * transaction only. */
bool derived_rebuild(struct ledger *ledger, struct err *err);

#endif
