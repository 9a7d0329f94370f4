/* What a fish's strokes add up to, kept beside them for quick totals. */
#ifndef STORE_STANDINGS_H
#define STORE_STANDINGS_H

#include "private.h"
#include "senbetsu/core/judgement.h"
#include "senbetsu/store/rounds.h"

/* A round's or a bowl's fish by verdict (`sql` is its tally statement); when the first was looked
 * at and the last closed, -1 where none was. Leaves `ret->expected` alone. */
bool standings_count(struct ledger *ledger, enum sql sql, int64_t id, struct verdict_counts *ret,
                     int64_t *ret_first_ms, int64_t *ret_last_ms, struct err *err);

/* Hears of a fish whose standing was not what its strokes add up to. */
struct standing_reporter {
    void (*differs)(void *context, const struct round *round, int bowl, int number);
    void *context;
};

/* Writes a fish's standing. Inside a transaction only. */
bool standing_save(struct ledger *ledger, int64_t fish, const struct standing *standing,
                   struct err *err);

/* Sums all fish of a round anew, by the latest version of the standard it is judged by, and writes
 * the standings that differ. `reporter` may be NULL. Inside a transaction only. */
bool standings_rebuild(struct ledger *ledger, const struct round *round,
                       const struct standing_reporter *reporter, struct err *err);

/* The same for every round that is judged by this standard. */
bool standings_rebuild_by(struct ledger *ledger, const char *standard, struct err *err);

#endif
