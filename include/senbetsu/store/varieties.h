/* The list of varieties, which standards, spawnings and parents share. */
#ifndef SENBETSU_STORE_VARIETIES_H
#define SENBETSU_STORE_VARIETIES_H

#include "senbetsu/core/variety.h"
#include "senbetsu/store/ledger.h"

/* By name. The caller frees `*ret` with free(). */
bool variety_list(struct ledger *ledger, struct variety **ret, size_t *ret_count, struct err *err);

/* The one that has this name in any spelling (variety_is). ERR_ABSENT: the sentence names the
 * nearest. */
bool variety_get(struct ledger *ledger, const char *text, struct variety *ret, struct err *err);

/* Puts the name by which the list has it in place of what was written; "" stays. Fails as
 * variety_get does. */
bool variety_settle(struct ledger *ledger, char text[CODE_SIZE], struct err *err);

/* Adds the variety, or changes the one that has its name in any spelling; what is not said stays.
 * Every change goes into the audit log. ERR_INPUT where one of its names is another's. */
bool variety_save(struct ledger *ledger, const struct variety *variety, int64_t judge,
                  const char *why, enum saved *ret_saved, struct err *err);

/* Makes the variety of this id what is said, its name included: spawnings and parents go by the
 * new name from then on, and the old one stays as a spelling, for standards and files that have
 * it. Fails as variety_save does. */
bool variety_change(struct ledger *ledger, const struct variety *variety, int64_t judge,
                    const char *why, enum saved *ret_saved, struct err *err);

#endif
