/* The evening's list of fish to take out and to look at again, as CSV and on paper with boxes to
 * tick. Its pieces are public so that each can be tested. */
#ifndef SENBETSU_PRINT_CULL_LIST_H
#define SENBETSU_PRINT_CULL_LIST_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/pass.h"

#include <stddef.h>

/* The cautions at the foot of every list: humane killing, disposal, release, disease, the worker's
 * own safety. They name the guidance, give no doses, and defer to local law and a vet. One a
 * paragraph, plain ASCII, unwrapped; NULL ends the list. */
extern const char *const cautions[];

/* Rows in another order, without copying them. */
struct fish_ref {
    const struct fish_row *row;
};

/* `count` references ordered by `compare`, which is given two of them; free with free(). */
struct fish_ref *fish_sorted(const struct fish_row *rows, size_t count,
                             int (*compare)(const void *, const void *));

/* "K26-1, Kikusui, lot 2, harvest"; no code has a comma in it. */
void cull_name_text(struct text *out, const struct cull_round *round);

/* Adds why, and what helps to find the fish: "score 41.3; tag 392141000123456". */
void cull_describe(struct text *out, const struct fish_row *fish);

/* Comes before row `row` (from 0) of a group whose title began with page_together: rows stand in
 * fives, and the title has the first two with it on its page. */
void cull_begin_row(struct page *page, int row);

/* "13–20, 25" */
void cull_unseen_text(const struct bowl_fish *bowl, struct text *out);

/* "take out 12, look again 2, keep 5, not judged 1: 20 in all" */
void cull_count_text(const struct cull_count *count, struct text *out);

/* Has this verdict and waits where its bowl's part of the list can name it: always in a cell, in a
 * basin only if that is its verdict's own. All others are among the fish to move first. */
bool cull_in_place(const struct cull_round *round, const struct fish_row *fish,
                   enum verdict verdict);

/* The fish to move first, basin by basin, and then what each basin must hold. `count` is the
 * round's. */
void cull_basin_moves(struct page *page, const struct cull_round *round,
                      const struct cull_count *count);

/* A bowl's fish of one verdict in place: by reason, boxes in fives, then a row for each with
 * a tag or judged after the pass. */
void cull_basin_boxes(struct page *page, const struct cull_round *round,
                      const struct bowl_fish *bowl, enum verdict verdict);

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
