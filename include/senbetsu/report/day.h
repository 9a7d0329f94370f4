/* The day's sheet: what was done in each round on one day, and what happened to lots. */
#ifndef SENBETSU_REPORT_DAY_H
#define SENBETSU_REPORT_DAY_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/rounds.h"

struct day_round {
    char spawning[CODE_SIZE]; /* "" = a mixed lot */
    char variety[CODE_SIZE];
    char lot[CODE_SIZE];
    enum stage stage;
    int64_t looked_at; /* fish judged on the day; where there are any, the round as it stands, as
                          its cull list counts it, and why fish are rejects */
    struct cull_count by_verdict;
    struct reject_reason *judged_reasons;
    size_t judged_reason_count;
    /* Tallied in the round: on the day (nothing but where `is_tallied`), and as it stands. */
    bool is_tallied;
    struct tally_totals on_day, stands;
    int64_t left;                  /* of the lot, -1 = not known */
    struct reject_reason *reasons; /* of the tallied rejects, as it stands */
    size_t reason_count;
    struct round_counts counts;   /* stated for the day; else nothing is known */
    struct first_look first_look; /* on the day, before the round; else nothing was looked at */
    struct fates fates;           /* of the rejects, as the round stands; settled */
    /* Sentences of report/rounds.h, "" = nothing of the sort. */
    char not_done[ROUND_SENTENCE_SIZE], outdated[ROUND_SENTENCE_SIZE];
};

struct day_sheet {
    char day[11];
    struct day_round *rounds;
    size_t round_count;
    struct lot_news *news; /* of lots on the day; its texts belong to … */
    size_t news_count;
    struct lot_event *events; /* … these … */
    struct lot_origin *lots;  /* … and these */
    size_t lot_count;
};

/* The rounds in which a fish was judged or tallied on the day, and those whose numbers were stated
 * for it; and what happened to lots. ERR_ABSENT where there is none. */
bool day_sheet_make(struct ledger *ledger, const char *day, struct day_sheet *ret, struct err *err);
void day_sheet_done(struct day_sheet *sheet);

#endif
