/* All that happened to a lot, to read, save or print. */
#include "senbetsu/screens/lot_items.h"
#include "senbetsu/screens/screens.h"

#include <stdlib.h>

static void add_event(struct page *page, const struct lot_event *event, int64_t lot_id)
{
    struct text line;
    text_init(&line);
    lot_event_text(event, lot_id, &line);
    page_add(page, event->undone ? "  taken back: " : "  ", line.data);
    text_done(&line);
}

static void print(const char *title, int64_t lot_id, const struct lot_event *events, size_t count,
                  struct page_setup setup, struct text *out)
{
    struct page page;
    page_init(&page, setup);
    page_heading(&page, title);
    for (size_t i = 0; i < count; i++)
        add_event(&page, &events[i], lot_id);
    if (count == 0)
        page_addf(&page, "Nothing happened to it but its culls.");
    page_write(&page, out);
    page_done(&page);
}

static bool make(struct app *app, int64_t lot_id, struct page_setup setup, struct text *out,
                 struct err *err)
{
    char title[LOT_TEXT_SIZE] = "";
    struct lot_origin *lots;
    struct lot_event *events;
    size_t lot_count, count;
    if (!lot_origins_list(app->ledger, &lots, &lot_count, err))
        return false;
    const struct lot_origin *lot = lot_origin_find(lots, lot_count, lot_id);
    if (lot != NULL)
        lot_title(lot, title);
    lot_origins_free(lots, lot_count);
    if (!lot_events_of_lot(app->ledger, lot_id, true, &events, &count, err))
        return false;
    print(title, lot_id, events, count, setup, out);
    free(events);
    return true;
}

void app_open_lot_history(struct app *app, int64_t lot_id)
{
    static const struct pages_kind kind = {.title = "What happened to the lot",
                                           .save = "Save what happened to the lot",
                                           .file = "lot",
                                           .make = make};
    app_open_pages(app, &kind, lot_id);
}
