/* The cull list on screen. */
#include "senbetsu/print/cull_list.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/screens/screens.h"

static bool make(struct app *app, int64_t round_id, struct page_setup setup, struct text *out,
                 struct err *err)
{
    struct round round;
    struct cull_list_made made;
    if (!round_get(app->ledger, round_id, &round, err) ||
        !cull_list_of_round(app->ledger, &round, &made, err))
        return false;
    cull_list_print(&made.list, setup, out);
    cull_list_done(&made);
    return true;
}

void app_open_list(struct app *app, int64_t round_id)
{
    static const struct pages_kind kind = {
        .title = "The cull list", .save = "Save the list", .file = "cull-list", .make = make};
    app_open_pages(app, &kind, round_id);
}
