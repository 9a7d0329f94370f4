#include "senbetsu/cli/commands.h"
#include "senbetsu/print/day.h"
#include "senbetsu/report/day.h"

bool command_day(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct day_sheet_made made;
    if (!session_open_to_read(session, err) ||
        !day_sheet_make(session->ledger, options->values[OPTION_DATE], &made, err))
        return false;
    if (options->given[OPTION_CSV])
        day_sheet_csv(&made.sheet, &session->out);
    else
        day_sheet_print(&made.sheet, session_page(session), &session->out);
    day_sheet_done(&made);
    return session_deliver(session, err);
}
