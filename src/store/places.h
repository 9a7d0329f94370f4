/* Where each judge's hand is. */
#ifndef STORE_PLACES_H
#define STORE_PLACES_H

#include "private.h"
#include "senbetsu/store/fish.h"

/* place_save without its own transaction; NULL writes nothing. Inside a transaction only. */
bool place_write(struct ledger *ledger, const struct place *place, struct err *err);

#endif
