#include "senbetsu/cli/commands.h"
#include "senbetsu/host/machine.h"
#include "senbetsu/store/backup.h"

#include <limits.h>

static bool restore(struct session *session, const char *copy, const char *path, struct err *err)
{
    struct clock clock = machine_clock();
    char kept[PATH_MAX];
    if (!ledger_restore(copy, path, &clock, kept, sizeof kept, err))
        return false;
    text_addf(&session->out, "%s is now what %s was.\n", path, copy);
    if (kept[0] != '\0')
        text_addf(&session->out, "What stood there before is kept as %s.\n", kept);
    return true;
}

bool command_restore(struct session *session, struct err *err)
{
    struct text path;
    text_init(&path);
    bool done = session_ledger_path(session->options, &path, err) &&
                session_make_folders(path.data, err) &&
                restore(session, session->options->arguments[0], path.data, err);
    text_done(&path);
    return done;
}
