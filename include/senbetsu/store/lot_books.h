/* The lots with their book counts and where they are now. */
#ifndef SENBETSU_STORE_LOT_BOOKS_H
#define SENBETSU_STORE_LOT_BOOKS_H

#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"

struct lot_line {
    struct lot_origin of; /* its code, spawnings, season, variety */
    char pond[CODE_SIZE]; /* where it is now, "" = nobody said */
    struct book_count book;
};

/* All lots: the latest season first (those of several seasons before it), then by spawnings, a
 * spawning's own lot first, then by code. */
bool lot_lines_list(struct ledger *ledger, struct lot_line **ret, size_t *ret_count,
                    struct err *err);
void lot_lines_free(struct lot_line *lines, size_t count);

/* How many fish went into a round by the book: its lot's number before it, on the round's first day
 * or, where it has not begun, today. What rests on a count of the lot or on fish put into it keeps
 * how it was made; what rests on an earlier cull is estimated, for nobody saw who died since.
 * NOT_COUNTED where it cannot be told, rests on the fry, or is overdrawn. */
bool lot_book_before(struct ledger *ledger, int64_t round_id, struct count *ret, struct err *err);

#endif
