/* From the ledger's events of lots to what is printed of them. */
#ifndef SENBETSU_REPORT_LOT_NEWS_H
#define SENBETSU_REPORT_LOT_NEWS_H

#include "senbetsu/print/lot_news.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"

/* The texts are those of the event and of its lot. */
struct lot_news lot_news_of(const struct lot_event *event, const struct lot_origin *lot);

#endif
