#include "senbetsu/cli/commands.h"
#include "senbetsu/print/comparison.h"
#include "senbetsu/report/comparison.h"

bool command_compare(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    int stage = options_stage_or_none(options);
    struct compared compared;
    if (!session_open_to_read(session, err) ||
        !compare_make(session->ledger, options->arguments[0], options->arguments[1], stage,
                      &compared, err))
        return false;
    if (options->given[OPTION_CSV])
        compare_csv(&compared.comparison, &session->out);
    else
        compare_print(&compared.comparison, session_page(session), &session->out);
    compare_done(&compared);
    return session_deliver(session, err);
}
