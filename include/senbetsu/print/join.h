/* What a join brings or brought, and what two stations changed differently. */
#ifndef SENBETSU_PRINT_JOIN_H
#define SENBETSU_PRINT_JOIN_H

#include "senbetsu/print/page.h"
#include "senbetsu/store/join.h"

/* `file` is the other ledger; `offset_minutes` of local time. */
void join_print(const struct join *join, const char *file, bool preview, int offset_minutes,
                struct page_setup setup, struct text *out);

/* Both may be empty: then there is nothing to decide. */
void differences_print(const struct difference *differences, size_t count, char *const *clashes,
                       size_t clash_count, int offset_minutes, struct page_setup setup,
                       struct text *out);

/* "far ponds", or "a station without a name". */
const char *station_shown(const char *name);

/* "Mika, far ponds, 2026-06-14 08:41": who said it, where and when. */
void statement_origin_add(const struct statement_of *said, int offset_minutes, struct text *out);

#endif
