/* The result of a pass. */
#ifndef SENBETSU_PRINT_PASS_TABLE_H
#define SENBETSU_PRINT_PASS_TABLE_H

#include "senbetsu/print/fish_row.h"
#include "senbetsu/print/page.h"

/* bowl,fish,score,rank,verdict,reason — in the order given. */
void pass_csv(const struct fish_row *rows, size_t count, struct text *out);

/* For people: ranked, with the cut line drawn, the counts, and the share kept with its 95 % Wilson
 * interval. `title` heads it. */
void pass_print(const char *title, const struct fish_row *rows, size_t count,
                struct page_setup setup, struct text *out);

#endif
