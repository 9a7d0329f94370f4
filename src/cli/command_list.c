#include "senbetsu/cli/commands.h"
#include "senbetsu/cli/cull_list_make.h"
#include "senbetsu/cli/output.h"

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
    if (options->given[OPTION_TO] && options->given[OPTION_PRINTER])
        return err_set(err, ERR_USAGE, "list goes --to a file or to a --printer, not to both.");
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

/* What goes to a file or a printer is paper, wherever it was asked for. */
static bool deliver(struct session *session, const struct cull_list *list, struct err *err)
{
    const struct options *options = session->options;
    bool away = options->given[OPTION_TO] || options->given[OPTION_PRINTER];
    struct page_setup setup = session_page(session);
    if (away)
        setup.lines = page_default().lines;
    if (options->given[OPTION_CSV])
        cull_list_csv(list, &session->out);
    else
        cull_list_print(list, setup, &session->out);
    bool done = true;
    if (options->given[OPTION_TO])
        done = output_file(options->values[OPTION_TO], &session->out, err);
    if (options->given[OPTION_PRINTER])
        done = output_printer(options->values[OPTION_PRINTER], &session->out, err);
    if (away)
        text_clear(&session->out);
    return done;
}

bool command_list(struct session *session, struct err *err)
{
    struct cull_list_made made;
    if (!check_options(session->options, err) || !session_open(session, false, err) ||
        !make(session, &made, err))
        return false;
    bool done = deliver(session, &made.list, err);
    cull_list_done(&made);
    return done;
}
