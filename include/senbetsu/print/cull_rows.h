/* What all parts of a cull list are made of: names, rows with a box, a place to sign. */
#ifndef SENBETSU_PRINT_CULL_ROWS_H
#define SENBETSU_PRINT_CULL_ROWS_H

#include "senbetsu/print/cull_list.h"

/* Large enough for a wet hand. */
#define CULL_BOX "[   ]"

/* "K26-1, Kikusui, lot 2, harvest"; no code has a comma in it. */
void cull_name_text(struct text *out, const struct cull_round *round);

/* Adds why, and what helps to find the fish: "score 41.3; tag 392141000123456". */
void cull_describe(struct text *out, const struct fish_row *fish);

/* A fish's row: number, box, description. */
void cull_add_row(struct page *page, const struct fish_row *fish);

/* Comes before row `row` (from 0) of a group whose title began with page_together: rows stand in
 * fives, and the title has the first two with it on its page. */
void cull_begin_row(struct page *page, int row);

/* Lets a page that begins within this part say where the reader is; no bowl where `bowl` is 0, no
 * part where `title` is "". */
void cull_set_subhead(struct page *page, const struct cull_round *round, int bowl,
                      const char *title);

/* A place for who did `work` and when. */
void cull_add_signature(struct page *page, const char *work);

#endif
