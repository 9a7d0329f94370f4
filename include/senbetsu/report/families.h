/* The young of each spawning, with what its culls took in and kept: what pairs are compared by. */
#ifndef SENBETSU_REPORT_FAMILIES_H
#define SENBETSU_REPORT_FAMILIES_H

#include "senbetsu/report/rates.h"

struct family_cull {
    int64_t in, kept;
    double in_cv, kept_cv; /* relative standard errors, where they are known … */
    double covariance;     /* … and their covariance */
    bool estimated;        /* one of the two is an estimate … */
    bool error_unknown;    /* … of which nobody knows the error */
    bool at_work;          /* more fish may be to come */
};

struct family {
    const char *spawning;
    const struct lot_origin *lot; /* one of its lots: they share all that is told of parents */
    int season;
    int pair;        /* its place among the pairs; NO_KEY = a parent is not known */
    unsigned stages; /* a bit for each that was counted: both numbers are known */
    struct family_cull culls[STAGE_COUNT];
};

struct families {
    struct rates rates;     /* the texts belong to these … */
    struct rate_keys pairs; /* … and these: "DAM+SIRE", "DAM+SIRE;SIRE", in order */
    struct family *list;    /* by season and spawning */
    size_t count;
};

/* All of the ledger, as docs/rates.md adds them up: fish in lots mixed of several spawnings are in
 * none. */
bool families_make(struct ledger *ledger, struct families *ret, struct err *err);
void families_done(struct families *families);

/* Were fish counted into the stage `first` and out of `last`, and on a longer way all that came to
 * the end of it? */
bool family_went_through(const struct family *family, enum stage first, enum stage last);

#endif
