/* A stroke as a row of the ledger has it: all scores in one text, a character an aspect in the
 * order of the standard's version, and all faults in another. One row a key keeps a key quick and
 * the ledger small; the codes come from the table standard_item. */
#ifndef STORE_STROKE_ROW_H
#define STORE_STROKE_ROW_H

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

/* Forgets the codes of all versions: those of a version that was rolled back are not its own. */
void item_codes_forget(struct ledger *ledger);

#endif
