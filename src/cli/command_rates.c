#include "senbetsu/cli/commands.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/report/rates.h"

static enum rates_by chosen_by(const struct options *options)
{
    if (!options->given[OPTION_BY])
        return BY_SPAWNING;
    return (enum rates_by)term_find(rates_by_terms, BY_COUNT, options->values[OPTION_BY]);
}

bool command_rates(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    enum rates_by by = chosen_by(options);
    int stage = options_stage_or_none(options);
    struct rates rates;
    if (!session_open_to_read(session, err) || !rates_make(session->ledger, by, stage, &rates, err))
        return false;
    if (options->given[OPTION_CSV])
        rates_csv(by, rates.rows, rates.count, &session->out);
    else
        rates_print(by, rates.rows, rates.count, session_page(session), &session->out);
    rates_done(&rates);
    return true;
}
