#include "senbetsu/cli/commands.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/report/cull_list.h"

static bool check_options(const struct options *options, struct err *err)
{
    const char *date = options->values[OPTION_DATE];
    bool round = options->given[OPTION_SPAWNING] || options->given[OPTION_STAGE] ||
                 options->given[OPTION_LOT];
    if (date != NULL && round)
        return err_set(err, ERR_USAGE, "list takes --date alone, or --spawning and --stage.");
    if (date == NULL && !options->given[OPTION_SPAWNING])
        return err_set(err, ERR_USAGE, "list needs --date D, or --spawning S and --stage T.");
    if (date == NULL && !options->given[OPTION_STAGE])
        return err_set(err, ERR_USAGE, "list needs --stage T beside --spawning.");
    return true;
}

static bool make(struct session *session, struct cull_list_made *ret, struct err *err)
{
    const char *date = session->options->values[OPTION_DATE];
    struct round round;
    if (date != NULL)
        return cull_list_of_day(session->ledger, date, ret, err);
    return session_round(session, &round, err) &&
           cull_list_of_round(session->ledger, &round, ret, err);
}

bool command_list(struct session *session, struct err *err)
{
    struct cull_list_made made;
    if (!check_options(session->options, err) || !session_open(session, false, err) ||
        !make(session, &made, err))
        return false;
    if (session->options->given[OPTION_CSV])
        cull_list_csv(&made.list, &session->out);
    else
        cull_list_print(&made.list, session_page(session), &session->out);
    cull_list_done(&made);
    return session_deliver(session, err);
}
