/* The evening's list of what is done with the fish of a round, as CSV and on paper with boxes to
 * tick. */
#ifndef SENBETSU_PRINT_CULL_LIST_H
#define SENBETSU_PRINT_CULL_LIST_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/pass.h"

#include <stddef.h>

/* "K26-1, Kikusui, lot 2, harvest"; no code has a comma in it. */
void cull_name_text(struct text *out, const struct cull_round *round);

/* Adds what is known of a fish in hand: "tag 392141000123456; note: small". */
void cull_describe(struct text *out, const struct fish_row *fish);

/* "13–20, 25" */
void cull_unseen_text(const struct bowl_fish *bowl, struct text *out);

/* "take out 12, look again 2, keep 5, not judged 1: 20 in all" */
void cull_count_text(const struct cull_count *count, struct text *out);

/* What the list rests on, the cautions, then round by round the work, and at the end whose guidance
 * the cautions are. How the work reads depends on where the fish wait.
 *
 * In cells, bags or under tags a fish is found by its number: bowl by bowl boxes for those that are
 * taken out, numbers of those that stay for the second look or are not judged.
 *
 * In basins the numbers have gone: a step for each basin, how many of its fish are picked by eye
 * and put where, certain ones only by tag; then the basins are counted, and then the rejects go,
 * all in one line.
 *
 * A bowl that only the fish name (none of `bowls`) is listed too, and so are numbers up to
 * `expected` that no fish bears. Keeps are only counted. */
void cull_list_print(const struct cull_list *list, struct page_setup setup, struct text *out);

/* bowl,fish,verdict,reason,fate,spawning,lot,stage,length_mm,tag,note,score,from,to — bowl by bowl
 * rejects, then holds, then open fish, no keeps. Numbers that were expected and never judged are
 * open without a reason; only rejects have a fate. */
void cull_list_csv(const struct cull_list *list, struct text *out);

#endif
