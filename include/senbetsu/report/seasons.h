/* Makes a season's book out of the ledger; print lays it out. */
#ifndef SENBETSU_REPORT_SEASONS_H
#define SENBETSU_REPORT_SEASONS_H

#include "senbetsu/print/season_book.h"
#include "senbetsu/report/rates.h"
#include "senbetsu/store/lot_books.h"

/* `book` is what print takes; the rest owns what it points to. */
struct season_book_made {
    struct season_book book;
    struct book_entry *entries;
    struct spawning *spawnings; /* of all seasons, the latest first */
    size_t spawning_count;
    struct rates by_spawning, by_lot, by_season;
    struct lot_line *lots;
    size_t lot_count;
    struct lot_event *events;
    size_t event_count;
};

/* The season's spawnings by date and code, then the lots mixed from them. A lot mixed from several
 * seasons is in none of their books. ERR_ABSENT where the season has no spawning. */
bool season_book_make(struct ledger *ledger, int season, struct season_book_made *ret,
                      struct err *err);
void season_book_done(struct season_book_made *made);

#endif
