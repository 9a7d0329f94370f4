/* The season on paper: every spawning with its parents and its fish from eggs to kept tosai. */
#ifndef SENBETSU_PRINT_SEASON_BOOK_H
#define SENBETSU_PRINT_SEASON_BOOK_H

#include "senbetsu/core/count.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/core/round.h"
#include "senbetsu/print/lot_news.h"
#include "senbetsu/print/rates_table.h"

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

/* The parents of the season's spawnings: docs/kinship.md. */
struct season_parents {
    size_t dams, sires;       /* 0 = no spawning has both named */
    size_t left_out;          /* spawnings whose dam or sires are not named */
    double effective;         /* number of parents */
    double effective_by_fish; /* by what each spawning kept; 0 = that is not known */
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

void season_book_print(const struct season_book *book, struct page_setup setup, struct text *out);

/* The warning where more are said to have hatched than there were eggs. */
extern const char hatched_too_many[];

/* The columns of rates_csv: the spawnings, then the mixed lots, then the season. */
void season_book_csv(const struct season_book *book, struct text *out);

#endif
