/* Other names for records. */
#ifndef SENBETSU_STORE_NAMES_H
#define SENBETSU_STORE_NAMES_H

#include "senbetsu/store/retired.h"

/* Gives a judge, parent, spawning or lot another name. With a spawning its own lot is renamed,
 * which has no name of its own. ERR_INPUT where the name is another's, or is none; every change
 * goes into the audit log. */
bool record_rename(struct ledger *ledger, enum record_kind kind, int64_t id, const char *name,
                   int64_t judge, const char *why, struct err *err);

#endif
