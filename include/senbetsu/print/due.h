/* The culls that come next, for planning the weeks ahead: as CSV and on paper. */
#ifndef SENBETSU_PRINT_DUE_H
#define SENBETSU_PRINT_DUE_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/due.h"

void due_list_print(const struct due_list *list, struct page_setup setup, struct text *out);

/* spawning,lot,variety,stage,from,to,late,fish,per_hour,hours,pond — what is not known is empty. */
void due_list_csv(const struct due_list *list, struct text *out);

#endif
