/* The young of each spawning, with what its culls took in and kept: what pairs are compared by. */
#ifndef SENBETSU_CLI_BROODS_H
#define SENBETSU_CLI_BROODS_H

#include "senbetsu/cli/rates_make.h"

struct brood_cull {
    int64_t in, kept;
    double in_cv, kept_cv; /* relative standard errors, where they are known … */
    double shared;         /* … and their covariance */
    bool estimated;        /* one of the two is an estimate … */
    bool error_unknown;    /* … of which nobody knows the error */
    bool at_work;          /* more fish may be to come */
};

struct brood {
    const char *spawning;
    const struct descent *lot; /* one of its lots: they share all that is told of parents */
    int season;
    int pair;        /* its place among the pairs; NO_KEY = a parent is not known */
    unsigned stages; /* a bit for each that was counted: both numbers are known */
    struct brood_cull culls[STAGE_COUNT];
};

struct broods {
    struct rates rates;     /* the texts belong to these … */
    struct rate_keys pairs; /* … and these: "DAM+SIRE", "DAM+SIRE;SIRE", in order */
    struct brood *list;     /* by season and spawning */
    size_t count;
};

/* All of the ledger, as docs/rates.md adds them up: fish in lots mixed of several spawnings are in
 * none. */
bool broods_make(struct ledger *ledger, struct broods *ret, struct err *err);
void broods_done(struct broods *broods);

/* Were fish counted into the stage `first` and out of `last`, and on a longer way all that came to
 * the end of it? */
bool brood_went_through(const struct brood *brood, enum stage first, enum stage last);

#endif
