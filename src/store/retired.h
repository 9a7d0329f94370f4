/* What the files that retire records share. */
#ifndef STORE_RETIRED_H
#define STORE_RETIRED_H

#include "senbetsu/store/ledger.h"

/* The instant of the next retirement: no other one has it. Inside a transaction only. */
bool retiring_instant(struct ledger *ledger, int64_t *ret_at_ms, struct err *err);

#endif
