/* Which station a ledger file is: docs/decisions/stations.md. */
#ifndef STORE_STATION_H
#define STORE_STATION_H

#include "private.h"

/* Sees whether the file still lies where its station was last seen; if not, or if there is no
 * station yet, a new one begins, with `setup`'s seed and name. */
bool station_settle(struct ledger *ledger, const struct ledger_setup *setup, struct err *err);

#endif
