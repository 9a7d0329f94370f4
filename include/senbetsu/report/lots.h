/* From the ledger's events of lots to what is printed of them. */
#ifndef SENBETSU_REPORT_LOTS_H
#define SENBETSU_REPORT_LOTS_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/lot.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"

struct lot_news {
    const char *day;
    const char *spawning, *lot; /* spawning "" = a mixed lot */
    enum lot_event_kind kind;
    bool all;          /* a transfer of all there were */
    struct count fish; /* NOT_COUNTED = not known, or a move */
    const char *target, *pond, *note;
};

/* The texts are those of the event and of its lot. */
struct lot_news lot_news_of(const struct lot_event *event, const struct lot_origin *lot);

#endif
