/* From the ledger's events of lots to what is printed of them. */
#ifndef SENBETSU_CLI_LOT_NEWS_OF_H
#define SENBETSU_CLI_LOT_NEWS_OF_H

#include "senbetsu/print/lot_news.h"
#include "senbetsu/store/descents.h"
#include "senbetsu/store/lot_events.h"

/* The texts are those of the event and of its lot. */
struct lot_news lot_news_of(const struct lot_event *event, const struct descent *lot);

#endif
