/* Which lots are counted together. */
#ifndef SENBETSU_REPORT_RATE_KEYS_H
#define SENBETSU_REPORT_RATE_KEYS_H

#include "senbetsu/print/rates_table.h"
#include "senbetsu/store/lot_origins.h"

struct rate_key {
    char *text;
    const char *spawnings; /* of a lot; else "" */
    int season;            /* 0 = of several */
};

struct rate_keys {
    struct rate_key *list; /* in order: by season and text, lots and pairs by text */
    size_t count;
    int *of; /* of each lot, in the order given; NO_KEY = it counts for none */
};

enum { NO_KEY = -1 };

/* The lots must outlive the keys. */
void rate_keys_init(struct rate_keys *keys, enum rates_by by, const struct lot_origin *lots,
                    size_t count);
void rate_keys_done(struct rate_keys *keys);

#endif
