/* Strokes as rows of the ledger, and the verdicts cached with them: what this layer's files share.
 *
 * All scores of a stroke stand in one text, a character an aspect in the order of the standard's
 * version, and all faults in another. One row a key keeps a key quick and the ledger small; the
 * codes come from the table standard_item. */
#ifndef STORE_STROKES_H
#define STORE_STROKES_H

#include "query.h"
#include "senbetsu/core/entry.h"

/* Binds the eleven columns from `standard` on, as SQL_STROKE_ADD has them. `texts` must live until
 * the query ends. ERR_INPUT where the stroke's version does not have a code. */
struct stroke_texts {
    char scores[STANDARD_ASPECTS + 1];
    char faults[STANDARD_FAULTS + 1];
};
bool stroke_row_bind(struct query *query, const struct stroke *stroke, struct stroke_texts *texts,
                     struct err *err);

/* Reads the same columns of a row and adds what they say to what is known of a fish. */
bool stroke_row_apply(struct query *query, const struct standard *standard, int look, int64_t at_ms,
                      struct fish *fish, struct err *err);

/* Compares the aspects and faults of every version with its text, and with `rebuilds` writes those
 * anew that differ; that inside a transaction only. */
bool standard_items_check(struct ledger *ledger, bool rebuilds,
                          void (*differs)(void *context, const char *name, int version),
                          void *context, struct err *err);

/* Forgets the codes of all versions: those of a version that was rolled back are not its own. */
void item_codes_forget(struct ledger *ledger);

/* Writes anew what stands of a fish, or of every fish of a round, from how it is judged and what
 * the latest pass of its round decided. Inside a transaction only. */
bool fish_stands(struct ledger *ledger, int64_t fish, struct err *err);
bool round_stands(struct ledger *ledger, int64_t round_id, struct err *err);

/* Hears of a fish whose cached verdict was not what its strokes add up to. */
struct verdict_reporter {
    void (*differs)(void *context, int bowl, int number);
    void *context;
};

/* Replays all fish of a round by this standard, writes the verdicts that differ, and what stands. A
 * fish that another pass decided stands otherwise, too. `reporter` may be NULL. Inside a
 * transaction only. */
bool verdicts_rebuild(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                      const struct verdict_reporter *reporter, struct err *err);

/* The same without writing: tells of the verdicts that differ. */
bool verdicts_compare(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                      const struct verdict_reporter *reporter, struct err *err);

/* verdicts_rebuild for every round that is judged by the standard of this name. */
bool verdicts_rebuild_by(struct ledger *ledger, const struct standard *standard, struct err *err);

#endif
