/* What was entered wrongly, put right. Every change goes into the audit log. What stands against it
 * is said in a sentence (ERR_INPUT). */
#ifndef SENBETSU_STORE_CORRECTIONS_H
#define SENBETSU_STORE_CORRECTIONS_H

#include "senbetsu/store/retired.h"
#include "senbetsu/store/rounds.h"

/* The name `wrong` was meant to be `right`: it is not offered any more, and whatever was done under
 * it is shown as the right one's. record_bring_back makes it a judge of its own again. */
bool judge_is(struct ledger *ledger, int64_t wrong, int64_t right, int64_t judge, struct err *err);

/* Writes number, expected and day of a bowl. */
bool bowl_change(struct ledger *ledger, const struct bowl *bowl, int64_t judge, const char *why,
                 struct err *err);

/* Moves the fish of these numbers into another bowl of the round. Each keeps its number where that
 * is free there, else gets the next one after the highest. `*ret_last` is the new number of the
 * last of them. Where a bowl was counted, its number goes with them; an emptied one is not counted
 * any more. */
bool fish_move(struct ledger *ledger, int64_t from, const int *numbers, size_t count, int64_t into,
               int64_t judge, const char *why, int *ret_last, struct err *err);

/* Moves all fish and retires the bowl that is empty then. */
bool bowl_merge(struct ledger *ledger, int64_t from, int64_t into, int64_t judge, const char *why,
                struct err *err);

/* The numbers of a bowl's fish, ascending; the caller frees `*ret` with free(). */
bool fish_numbers(struct ledger *ledger, int64_t bowl, int64_t **ret, size_t *ret_count,
                  struct err *err);

#endif
