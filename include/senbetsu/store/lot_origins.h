/* Where the fish of a lot come from. */
#ifndef SENBETSU_STORE_LOT_ORIGINS_H
#define SENBETSU_STORE_LOT_ORIGINS_H

#include "senbetsu/store/spawnings.h"

struct lot_origin {
    int64_t lot_id;
    int64_t spawning_id; /* 0 = mixed */
    bool mixed;          /* of several spawnings: its fish are credited to none of them */
    bool own;            /* the lot its spawning began as */
    char lot[CODE_SIZE];
    char *spawnings;         /* the code of its spawning, or several separated by ';' */
    int season;              /* 0 = of several */
    char variety[CODE_SIZE]; /* "" = unknown, or several */
    int64_t hatched;         /* of the spawning; NOT_COUNTED */
    char dam[CODE_SIZE];     /* "" = unknown or mixed */
    char *sires;             /* in order of code, separated by ';'; "" = unknown or mixed */
};

/* Of all lots, by lot_id. */
bool lot_origins_list(struct ledger *ledger, struct lot_origin **ret, size_t *ret_count,
                      struct err *err);

void lot_origins_free(struct lot_origin *lot_origins, size_t count);
void lot_origin_done(struct lot_origin *lot_origin); /* the texts of one */

/* The one of this lot in such a list; NULL where it is not there. */
const struct lot_origin *lot_origin_find(const struct lot_origin *lot_origins, size_t count,
                                         int64_t lot_id);

#endif
