#include "senbetsu/cli/commands.h"
#include "senbetsu/print/pairs.h"
#include "senbetsu/report/pairs.h"

bool command_pairs(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct pairs_made made;
    if (!session_open_to_read(session, err) ||
        !pairs_make(session->ledger, options_stage_or_none(options),
                    options->values[OPTION_VARIETY], options_fry(options), &made, err))
        return false;
    if (options->given[OPTION_CSV])
        pairs_csv(&made.table, &session->out);
    else
        pairs_print(&made.table, session_page(session), &session->out);
    pairs_done(&made);
    return session_deliver(session, err);
}
