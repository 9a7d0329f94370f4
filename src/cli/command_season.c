#include "senbetsu/cli/commands.h"
#include "senbetsu/print/season.h"
#include "senbetsu/report/season.h"

bool command_season(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct season_book_made made;
    if (!session_open_to_read(session, err) ||
        !season_book_make(session->ledger, options_year(options), &made, err))
        return false;
    if (options->given[OPTION_CSV])
        season_book_csv(&made.book, &session->out);
    else
        season_book_print(&made.book, session_page(session), &session->out);
    season_book_done(&made);
    return session_deliver(session, err);
}
