/* Makes a season's book out of the ledger; print lays it out. */
#ifndef SENBETSU_REPORT_SEASONS_H
#define SENBETSU_REPORT_SEASONS_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/core/round.h"
#include "senbetsu/report/lot_news.h"
#include "senbetsu/report/rates.h"
#include "senbetsu/report/season_parents.h"
#include "senbetsu/store/lot_books.h"

/* The numbers of one round as they were made. */
struct book_round {
    enum stage stage;
    const char *lot; /* "" = the spawning's own */
    struct count in, kept;
    int64_t rejected, dead; /* NOT_COUNTED */
    struct first_look first_look;
    struct fates fates; /* of the rejects, settled */
};

/* A lot to which something happened outside its culls. */
struct book_lot {
    const char *lot; /* "" = the spawning's own, or the mixed one */
    const char *pond;
    struct book_count book;
    struct lot_news *transfers; /* of its fish into other lots */
    size_t transfer_count;
};

/* A spawning, or a lot mixed from several. */
struct book_entry {
    char *title;           /* "K26-1, Kikusui, 2026-05-20" */
    char *lot_origin;      /* its parents, or the spawnings it was mixed from; "" = unknown */
    const char *note;      /* "" = none */
    int64_t eggs, hatched; /* NOT_COUNTED */
    const struct rate_row *rows;
    size_t row_count;
    struct book_round *rounds; /* in order of stage */
    size_t round_count;
    struct book_lot *lots;
    size_t lot_count;
};

struct season_book {
    int season;
    const struct book_entry *entries; /* spawnings first */
    size_t entry_count;
    size_t spawning_count;
    const struct rate_row *season_rows; /* of all together */
    size_t season_row_count;
    struct season_parents parents;
};

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
