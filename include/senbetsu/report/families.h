/* The young of each spawning, with what its culls took in and kept: what pairs are compared by. */
#ifndef SENBETSU_REPORT_FAMILIES_H
#define SENBETSU_REPORT_FAMILIES_H

#include "senbetsu/report/rates.h"
#include "senbetsu/store/rounds.h"

struct family {
    const char *spawning;
    const struct lot_origin *lot; /* one of its lots: they share all that is told of parents */
    int season;
    int pair;        /* its place among the pairs; NO_KEY = a parent is not known */
    unsigned stages; /* a bit for each that was counted: both numbers are known */
    struct cull culls[STAGE_COUNT];
};

struct families {
    struct rates rates;     /* the texts belong to these … */
    struct rate_keys pairs; /* … and these: "DAM+SIRE", "DAM+SIRE;SIRE", in order */
    struct family *list;    /* by season and spawning */
    size_t count;
};

/* Of these spawnings (NULL = all), and all pairs, as docs/rates.md adds them up: fish in lots mixed
 * of several spawnings are in none. */
bool families_make(struct ledger *ledger, const struct selection *of, struct families *ret,
                   struct err *err);
void families_done(struct families *families);

/* Were fish counted into the stage `first` and out of `last`, and on a longer way all that came to
 * the end of it? */
bool family_went_through(const struct family *family, enum stage first, enum stage last);

/* The place of "DAM+SIRE" or "DAM+SIRE;SIRE" among the pairs; males in any order. ERR_USAGE where
 * it is not written so, ERR_ABSENT where no such pair spawned: the sentence names the nearest. */
bool pair_find(const struct rate_keys *pairs, const char *text, int *ret, struct err *err);

/* "K7 × P2; P3 (pooled)"; "?" stands for a parent that is not known, "" for both. */
const char *pair_text(const struct spawning *spawning, char *buffer, size_t size);

/* The code of the round's spawning; "mixed" where its fish are of several. */
const char *round_whose(const struct round *round);

#endif
