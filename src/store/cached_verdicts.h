/* The verdict of a fish so far, cached in its row. */
#ifndef STORE_CACHED_VERDICTS_H
#define STORE_CACHED_VERDICTS_H

#include "private.h"
#include "senbetsu/core/entry.h"

/* Writes what a fish's verdict is with `stroke`, when it was first looked at and when and by whom
 * it was last closed. Inside a transaction only. */
bool verdict_save(struct ledger *ledger, const struct stroke *stroke,
                  const struct standing *standing, struct err *err);

/* Hears of a fish whose cached verdict was not what its strokes add up to. */
struct verdict_reporter {
    void (*differs)(void *context, int bowl, int number);
    void *context;
};

/* Replays all fish of a round by this standard and writes the verdicts that differ. `reporter` may
 * be NULL. Inside a transaction only. */
bool verdicts_rebuild(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                      const struct verdict_reporter *reporter, struct err *err);

/* The same for every round that is judged by the standard of this name. */
bool verdicts_rebuild_by(struct ledger *ledger, const struct standard *standard, struct err *err);

#endif
