/* What stands of the records, from the audit log. */
#ifndef STORE_SETTLE_H
#define STORE_SETTLE_H

#include "query.h"

/* Works out every field of every record that can be changed, its name, and since when it is
 * retired. What is derived of fish and rounds does not follow by itself: derived_rebuild. Inside a
 * transaction only. */
bool records_settle(struct ledger *ledger, struct err *err);

#endif
