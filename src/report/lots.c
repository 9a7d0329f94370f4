#include "senbetsu/report/lots.h"

struct lot_news lot_news_of(const struct lot_event *event, const struct lot_origin *lot)
{
    return (struct lot_news){.day = event->day,
                             .spawning = lot == NULL || lot->mixed ? "" : lot->spawnings,
                             .lot = event->lot,
                             .kind = event->kind,
                             .all = event->all,
                             .fish = event->fish,
                             .target = event->target,
                             .pond = event->pond,
                             .note = event->note};
}
