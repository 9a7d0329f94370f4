#include "senbetsu/cli/commands.h"
#include "senbetsu/store/backup.h"

bool command_backup(struct session *session, struct err *err)
{
    const char *path = session->options->arguments[0];
    if (!session_open(session, false, err) || !ledger_backup(session->ledger, path, err))
        return false;
    text_addf(&session->out, "%s is a whole copy of %s.\n", path, ledger_path(session->ledger));
    return true;
}
