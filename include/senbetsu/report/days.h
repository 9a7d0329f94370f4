/* Makes the day's sheet out of the ledger; print lays it out. */
#ifndef SENBETSU_REPORT_DAYS_H
#define SENBETSU_REPORT_DAYS_H

#include "senbetsu/print/day_sheet.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/rounds.h"

/* `sheet` is what print takes; `rounds` owns what it points to. */
struct day_sheet_made {
    struct day_sheet sheet;
    struct day_round *rounds;
    struct lot_news *news;
    struct lot_event *events;
    struct lot_origin *lots;
    size_t lot_count;
};

/* The rounds in which a fish was judged or tallied on the day, and those whose numbers were stated
 * for it; and what happened to lots. ERR_ABSENT where there is none. */
bool day_sheet_make(struct ledger *ledger, const char *day, struct day_sheet_made *ret,
                    struct err *err);
void day_sheet_done(struct day_sheet_made *made);

#endif
