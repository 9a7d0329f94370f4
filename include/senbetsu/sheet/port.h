/* What the entry sheet asks of the ledger: a handful of function pointers, so that the sheet can be
 * run against memory in tests and never sees a database. */
#ifndef SENBETSU_SHEET_PORT_H
#define SENBETSU_SHEET_PORT_H

#include "senbetsu/base/err.h"
#include "senbetsu/core/entry.h"
#include "senbetsu/core/progress.h"

/* Where the hand is; what a broken-off session comes back to. */
struct sheet_place {
    int64_t bowl_id;
    int number; /* of the fish in its bowl; it need not be in the ledger yet */
    char aspect[CODE_CHARACTERS + 1]; /* the aspect in front, "" = the first open one */
};

/* The round around the bowl, as the ledger has it now (other sorters may be at work in it). */
struct sheet_round {
    int places; /* places to fill, -1 = not set */
    struct verdict_counts
        tally;       /* of the whole round, this bowl included; expected 0 = not known */
    int64_t *scores; /* of all fish that could be kept, in 1/unit points */
    size_t score_count;
    int64_t *closed_ms; /* when this judge's fish of today were closed, ascending */
    size_t closed_count;
};

void sheet_round_done(struct sheet_round *round);

struct sheet_port {
    void *context;

    /* One transaction: adds the fish to its bowl if `fish->id` is 0 (the id is filled in), the
     * stroke (its id and fish are filled in), the fish's standing, and the place. `fish` is as the
     * stroke leaves it; where the ledger comes to something else, somebody else has judged it too,
     * and the stroke is refused. When it returns true all of it is on disk; when it returns false,
     * none of it. */
    bool (*record)(void *context, struct fish *fish, struct stroke *stroke,
                   const struct standing *standing, const struct sheet_place *place,
                   struct err *err);

    /* Only the place: the hand moved and judged nothing. */
    bool (*move)(void *context, const struct sheet_place *place, struct err *err);

    /* The fish `fish->id` summed anew from everything recorded of it but the stroke `without`: what
     * an undo of that stroke will leave. It is asked before the undo is recorded, so that a fish,
     * its standing and the place change together or not at all. Writes nothing (a ledger may record
     * the undo, read the fish and roll back). */
    bool (*reload)(void *context, int64_t without, struct fish *fish, struct err *err);

    /* `ret` is initialised by the call; the sheet frees it with sheet_round_done. */
    bool (*round)(void *context, struct sheet_round *ret, struct err *err);

    /* Who else carries this tag in this round: `*ret_bowl` 0 = nobody. */
    bool (*tag_bearer)(void *context, const char *tag, int *ret_bowl, int *ret_number,
                       struct err *err);
};

#endif
