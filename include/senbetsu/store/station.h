/* Stations: the places at which this ledger, and what was joined to it, was written
 * (docs/decisions/stations.md). */
#ifndef SENBETSU_STORE_STATION_H
#define SENBETSU_STORE_STATION_H

#include "senbetsu/store/ledger.h"

enum { STATION_NAME_SIZE = 64 };

struct station {
    int64_t number;
    char name[STATION_NAME_SIZE]; /* "" = it has none */
    int64_t born_ms;
    bool here; /* what is recorded now is recorded by it */
};

/* In the order in which they began. */
bool station_list(struct ledger *ledger, struct station **ret, size_t *ret_count, struct err *err);

/* Names the station that this ledger is. */
bool station_rename(struct ledger *ledger, const char *name, int64_t judge, struct err *err);

/* Goes on as a new station of this name: for a copy that the program cannot tell from the file it
 * was made of, as on a cloned disk. `seed` is random. */
bool station_begin(struct ledger *ledger, const uint8_t seed[16], const char *name,
                   struct err *err);

#endif
