/* Keep rates by lot, spawning, pair, season or variety, with their intervals and what is typical:
 * docs/rates.md. */
#ifndef SENBETSU_REPORT_RATES_H
#define SENBETSU_REPORT_RATES_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/core/usual.h"
#include "senbetsu/report/selection.h"
#include "senbetsu/stats/cull.h"
#include "senbetsu/stats/proportion.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/round_counts.h"

#include <stdint.h>

/* What fish are counted together. */
enum rates_by { BY_LOT, BY_SPAWNING, BY_PAIR, BY_SEASON, BY_VARIETY, BY_COUNT };
extern const struct term rates_by_terms[BY_COUNT];

/* The rate of one cull, or chained over several. */
struct rate_row {
    const char *key;          /* whose: a lot, a spawning, DAM+SIRE;SIRE, a year, a variety */
    const char *spawnings;    /* of a lot: its spawning, or several separated by ';'; else "" */
    int season;               /* 0 = of several */
    enum stage first, last;   /* the same but for a chained rate */
    struct cull cull;         /* what went into the first, what the last one kept */
    double rate;              /* over 1 where fish were found again */
    struct interval interval; /* 95 % */
    bool has_rate, has_interval;
    bool uneven; /* chained, and not every spawning went through all the stages */
    /* Alive at its beginning, of the fish that the stage before kept (`after`, STAGE_COUNT = of the
     * fry that hatched). Negative = not known. */
    double survival;
    enum stage after;
    const struct typical *typical; /* NULL = nothing is known */
};

/* Is all of its interval, or the rate where it has none, outside what is typical, and all culls
 * done? A reason to check the standard or the count, no more. */
bool rate_row_untypical(const struct rate_row *row);

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
void rate_keys_init(struct rate_keys *keys, enum rates_by by, const struct selection *of,
                    const struct lot_origin *lots, size_t count);
void rate_keys_done(struct rate_keys *keys);

struct rates {
    struct rate_row *rows;
    size_t count;
    size_t lot_count;
    struct lot_origin *lots; /* the rows' texts belong to these … */
    struct rate_keys keys;   /* … and these */
};

/* What rates are made of: the numbers of all rounds, and what happened to lots between them. */
struct rates_source {
    struct cull_numbers *rounds;
    size_t round_count;
    struct lot_event *events;
    size_t event_count;
};
bool rates_source_init(struct rates_source *source, struct ledger *ledger, struct err *err);
void rates_source_done(struct rates_source *source);

/* By key; of each its stages in order and, where it has more than one after the black fry, their
 * rates chained. `stage` -1 = all, else that one alone; `of` NULL = all spawnings. A round counts
 * once both its numbers are known. A mixed lot counts for lot, season and variety, never for a
 * spawning or a pair. */
bool rates_make(struct ledger *ledger, enum rates_by by, int stage, const struct selection *of,
                struct rates *ret, struct err *err);

/* The same for who asks for several. */
bool rates_make_of(struct ledger *ledger, const struct rates_source *source, enum rates_by by,
                   int stage, const struct selection *of, struct rates *ret, struct err *err);
void rates_done(struct rates *rates);

#endif
