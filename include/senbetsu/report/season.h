/* The book of a season: what each spawning and each mixed lot came to, cull by cull, with its rates
 * and what happened between the culls; and how many parents the season's fish come from. */
#ifndef SENBETSU_REPORT_SEASON_H
#define SENBETSU_REPORT_SEASON_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/count.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/core/round.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/rates.h"
#include "senbetsu/report/rounds.h"

/* The parents of the season's spawnings: docs/kinship.md. */
struct season_parents {
    size_t dams, sires;       /* 0 = no spawning has both named */
    size_t left_out;          /* spawnings whose dam or sires are not named */
    double effective;         /* number of parents */
    double effective_by_fish; /* by what each spawning kept; 0 = that is not known */
};

/* Of one spawning. */
struct parentage {
    const char *dam;   /* "" = unknown */
    const char *sires; /* separated by ';'; "" = unknown */
    int64_t kept;      /* fish, NOT_COUNTED */
};

/* Each of several sires gets an equal share of the fish. Shares are told where the fish of every
 * spawning whose dam and sires are named have been counted. */
struct season_parents season_parents_sum(const struct parentage *spawnings, size_t count);

/* The numbers of one round as they were made. */
struct book_round {
    struct round_summary summary;
    const char *lot; /* "" = the spawning's own */
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
    const struct selection *of; /* while it is made */
    struct book_entry *entries; /* its spawnings by date and code, then its mixed lots */
    size_t entry_count;
    size_t spawning_entries;            /* how many of them are spawnings */
    const struct rate_row *season_rows; /* of all together */
    size_t season_row_count;
    struct season_parents parents;
    /* What the texts and rows belong to. */
    struct spawning *spawnings; /* of all seasons, the latest first */
    size_t spawning_count;
    struct rates by_spawning, by_lot, by_season;
    struct book_round *rounds; /* of the season's lots */
    size_t round_count;
    struct lot_line *lots;
    size_t lot_count;
    struct lot_event *events;
    size_t event_count;
};

/* The season's spawnings by date and code, then the lots mixed from them. A lot mixed from several
 * seasons is in none of their books. `of` NULL = all of the season. ERR_ABSENT where the season has
 * no spawning. */
bool season_book_make(struct ledger *ledger, int season, const struct selection *of,
                      struct season_book *ret, struct err *err);

/* The season that a day belongs to: the latest one up to its year that has a spawning, for in
 * spring, before the fish have spawned, it is still last year's; the day's year where none has. */
bool season_current(struct ledger *ledger, const char *day, int *ret_season, struct err *err);
void season_book_done(struct season_book *book);

#endif
