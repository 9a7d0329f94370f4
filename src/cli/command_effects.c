#include "senbetsu/cli/commands.h"
#include "senbetsu/print/effects.h"
#include "senbetsu/report/parents_fit.h"

static bool tell(struct session *session, const struct parents_fit *fit, struct err *err)
{
    if (fit->model == NULL) {
        *err = fit->trouble;
        return false;
    }
    if (session->options->given[OPTION_CSV])
        effects_csv(&fit->table, &session->out);
    else
        effects_print(&fit->table, session_page(session), &session->out);
    return true;
}

bool command_effects(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct parents_fit fit;
    if (!session_open_to_read(session, err) ||
        !parents_fit_make(session->ledger, options_stage_or_none(options),
                          options->values[OPTION_VARIETY], &fit, err))
        return false;
    bool told = tell(session, &fit, err);
    parents_fit_done(&fit);
    return told && session_deliver(session, err);
}
