#include "senbetsu/base/csv.h"
#include "senbetsu/base/number.h"
#include "senbetsu/exchange/export.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"

#include <stdlib.h>

struct writing {
    struct lot_origin *lots;
    size_t count;
    struct text *out;
};

/* A lot as its spawnings and its code; a spawning's own needs no code. */
static void add_lot(const struct writing *writing, int64_t lot_id, bool first)
{
    const struct lot_origin *lot = lot_origin_find(writing->lots, writing->count, lot_id);
    csv_add(writing->out, lot == NULL ? "" : lot->spawnings, first);
    csv_add(writing->out, lot == NULL || lot->own ? "" : lot->lot, false);
}

static void add_fish(struct text *out, const struct lot_event *event)
{
    char cv[NUMBER_SIZE] = "";
    bool said = event->fish.number != NOT_COUNTED && !event->all;
    if (said && event->fish.cv != 0)
        number_from_millionths(event->fish.cv, cv);
    if (said)
        csv_add_number(out, event->fish.number, false);
    else
        csv_add(out, "", false);
    csv_add(out, said ? method_terms[event->fish.method].word : "", false);
    csv_add(out, cv, false);
}

static void add_row(const struct writing *writing, const struct lot_event *event)
{
    struct text *out = writing->out;
    add_lot(writing, event->lot_id, true);
    csv_add(out, event->day, false);
    csv_add(out, lot_event_terms[event->kind].word, false);
    add_fish(out, event);
    add_lot(writing, event->target_id, false);
    csv_add(out, event->pond, false);
    csv_add(out, event->note, false);
    csv_end_row(out);
}

bool export_lots(struct ledger *ledger, struct text *out, struct err *err)
{
    struct writing writing = {.out = out};
    struct lot_event *events;
    size_t count;
    if (!lot_events_list(ledger, &events, &count, err))
        return false;
    bool done = lot_origins_list(ledger, &writing.lots, &writing.count, err);
    if (done) {
        text_add(out, "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n");
        for (size_t i = 0; i < count; i++)
            add_row(&writing, &events[i]);
        lot_origins_free(writing.lots, writing.count);
    }
    free(events);
    return done;
}
