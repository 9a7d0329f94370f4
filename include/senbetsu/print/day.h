/* The day on paper: round by round what was looked at, what became of it and what is left; and what
 * happened to lots. */
#ifndef SENBETSU_PRINT_DAY_H
#define SENBETSU_PRINT_DAY_H

#include "senbetsu/print/counts.h"
#include "senbetsu/print/page.h"
#include "senbetsu/report/day.h"

void day_sheet_print(const struct day_sheet *sheet, struct page_setup setup, struct text *out);

/* A row's looked_at, keep, hold, reject and left are of fish judged or tallied, in to dead as
 * stated.
 * spawning,lot,stage,looked_at,keep,hold,reject,left,in,kept,rejected,dead,event,number,into,pond,
 * pond_grade,passed_on,kept_apart,put_down — a row a round, then a row an event of a lot; what is
 * not known is empty. */
void day_sheet_csv(const struct day_sheet *sheet, struct text *out);

#endif
