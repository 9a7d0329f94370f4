/* The day on paper: round by round what was looked at, what became of it and what is left; and what
 * happened to lots. */
#ifndef SENBETSU_PRINT_DAY_SHEET_H
#define SENBETSU_PRINT_DAY_SHEET_H

#include "senbetsu/core/first_look.h"
#include "senbetsu/core/round.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/print/lot_news.h"

struct day_round {
    char spawning[CODE_SIZE]; /* "" = a mixed lot */
    char variety[CODE_SIZE];
    char lot[CODE_SIZE];
    enum stage stage;
    int64_t looked_at;     /* fish judged on the day */
    int not_judged;        /* of the round, as its cull list counts them */
    struct fish_row *fish; /* all of the round, as they stand; none where none was judged */
    size_t fish_count;
    /* Tallied in the round: on the day (nothing but where `is_tallied`), and as it stands. */
    bool is_tallied;
    struct tally_totals on_day, stands;
    int64_t left;                  /* of the lot, -1 = not known */
    struct reject_reason *reasons; /* of the tallied rejects, as it stands */
    size_t reason_count;
    struct round_counts counts;   /* stated for the day; else nothing is known */
    struct first_look first_look; /* on the day, before the round; else nothing was looked at */
    struct fates fates;           /* of the rejects, as the round stands; settled */
};

struct day_sheet {
    char day[11];
    const struct day_round *rounds;
    size_t round_count;
    const struct lot_news *news; /* of lots on the day */
    size_t news_count;
};

void day_sheet_print(const struct day_sheet *sheet, struct page_setup setup, struct text *out);

/* A row's looked_at, keep, hold, reject and left are of fish judged or tallied, in to dead as
 * stated.
 * spawning,lot,stage,looked_at,keep,hold,reject,left,in,kept,rejected,dead,event,number,into,pond,
 * pond_grade,passed_on,kept_apart,put_down — a row a round, then a row an event of a lot; what is
 * not known is empty. */
void day_sheet_csv(const struct day_sheet *sheet, struct text *out);

#endif
