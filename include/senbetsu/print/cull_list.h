/* The evening's list for the person who goes back to the bowls. */
#ifndef SENBETSU_PRINT_CULL_LIST_H
#define SENBETSU_PRINT_CULL_LIST_H

#include "senbetsu/print/fish_row.h"
#include "senbetsu/print/page.h"
#include "senbetsu/report/cull_lists.h"

/* Per round and bowl: the numbers to take out, then those to look at again, then those not judged,
 * each with its reason and a tick box; counts per bowl and in all; the fate of each group; a place
 * for who did it and when; the cautions. Keeps are only counted. A bowl that only the fish name
 * (none of `bowls`) is listed too, and so are numbers up to `expected` that no fish bears.
 *
 * How it reads depends on where the fish wait.
 *
 * In cells, bags or under tags a fish is found by its number: bowl by bowl, one row a fish, the
 * number first, in groups of five.
 *
 * In basins the numbers have gone: all rejects of the round swim together, nearly all of them where
 * they belong. Three things are left to do, and the list has them in this order. First, move the
 * fish that a pass, a correction or a second look has given another verdict than the one they were
 * put away with; a keep among the rejects must be out before that basin is emptied. These have a
 * row each, by the basin they lie in, with whatever helps to find them: tag, length, note. Second,
 * count the basins against what they should hold. Third, the fish that lie right, bowl by bowl:
 * boxes in fives under their reason, to tick off while counting; one with a tag has its own row.
 * Every fish that is not kept stands on the list exactly once. */
void cull_list_print(const struct cull_list *list, struct page_setup setup, struct text *out);

/* bowl,fish,verdict,reason,fate,spawning,lot,stage — bowl by bowl rejects, then holds, then open
 * fish, no keeps. Numbers that were expected and never judged are open without a reason; only
 * rejects have a fate. */
void cull_list_csv(const struct cull_list *list, struct text *out);

#endif
