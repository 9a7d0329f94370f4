#include "senbetsu/cli/commands.h"
#include "senbetsu/cli/output.h"
#include "senbetsu/store/copies.h"

static void add_finding(void *context, const char *sentence)
{
    struct text *out = context;
    text_addf(out, "%s\n", sentence);
}

bool command_check_ledger(struct session *session, struct err *err)
{
    int findings;
    if (!session_open(session, false, err) ||
        !ledger_check(session->ledger, add_finding, &session->out, &findings, err))
        return false;
    if (findings == 0) {
        text_addf(&session->out, "%s is in order.\n", ledger_path(session->ledger));
        return true;
    }
    return output_standard(&session->out, err) &&
           err_set(err, ERR_LEDGER, "The ledger is not in order: %d finding%s.", findings,
                   findings == 1 ? "" : "s");
}
