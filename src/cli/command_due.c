#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/cli/commands.h"
#include "senbetsu/print/due.h"
#include "senbetsu/report/due.h"

#include <stdlib.h>

enum { DAYS_USUAL = 14 };

static void today(const struct session *session, char ret_day[DATE_SIZE])
{
    const struct clock *clock = ledger_clock(session->ledger);
    date_of_instant(clock_now(clock), clock->offset_minutes, ret_day);
}

bool command_due(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct due_list list;
    char day[DATE_SIZE];
    int64_t days = DAYS_USUAL;
    if (!session_open_to_read(session, err))
        return false;
    today(session, day);
    if (options->given[OPTION_DATE])
        text_copy(day, sizeof day, options->values[OPTION_DATE]);
    if (options->given[OPTION_DAYS])
        number_whole(options->values[OPTION_DAYS], 1, DAYS_MOST, &days);
    if (!due_list_make(session->ledger, day, (int)days, &list, err))
        return false;
    if (options->given[OPTION_CSV])
        due_list_csv(&list, &session->out);
    else
        due_list_print(&list, session_page(session), &session->out);
    free(list.dues);
    return session_deliver(session, err);
}
