/* `check`, `backup` and `restore`: the care of the ledger file. Backup and restore copy through
 * SQLite and look the copy over before it counts; restore opens no ledger, for the one in place may
 * be the damaged one. */
#include "private.h"
#include "senbetsu/host/file.h"
#include "senbetsu/host/machine.h"
#include "senbetsu/host/output.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/restore.h"

#include <inttypes.h>
#include <limits.h>

static void add_finding(void *context, const char *sentence)
{
    struct text *out = context;
    text_addf(out, "%s\n", sentence);
}

/* The file is sound, but a number that somebody entered contradicts the others. */
static bool add_overdrawn(struct session *session, struct err *err)
{
    struct lot_line *lines;
    size_t count;
    if (!lot_lines_list(session->ledger, &lines, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        const struct lot_origin *lot = &lines[i].of;
        if (lines[i].book.overdrawn == 0)
            continue;
        text_addf(&session->out, "Remark: %" PRId64 " more fish left lot ",
                  lines[i].book.overdrawn);
        lot_title_add(lot->mixed ? "" : lot->spawnings, lot->lot, &session->out);
        text_add(&session->out, " than it had; a number is wrong.\n");
    }
    lot_lines_free(lines, count);
    return true;
}

bool command_check_ledger(struct session *session, struct err *err)
{
    int findings;
    if (!ledger_check(session->ledger, add_finding, &session->out, &findings, err))
        return false;
    if (findings == 0) {
        text_addf(&session->out, "%s is in order.\n", ledger_path(session->ledger));
        return add_overdrawn(session, err);
    }
    return session_deliver(session, err) &&
           err_set(err, ERR_LEDGER, "The ledger is not in order: %d finding%s.", findings,
                   findings == 1 ? "" : "s");
}

bool command_backup(struct session *session, struct err *err)
{
    const char *path = session->options->arguments[0];
    if (!ledger_backup(session->ledger, path, err))
        return false;
    text_addf(&session->out, "%s is a complete copy of %s.\n", path, ledger_path(session->ledger));
    return true;
}

static bool restore(struct session *session, const char *copy, const char *path, struct err *err)
{
    struct clock clock = machine_clock();
    char kept[PATH_MAX];
    if (!ledger_restore(copy, path, &clock, kept, sizeof kept, err))
        return false;
    text_addf(&session->out, "%s is restored from %s.\n", path, copy);
    if (kept[0] != '\0')
        text_addf(&session->out, "The ledger it replaced is kept as %s.\n", kept);
    return true;
}

bool command_restore(struct session *session, struct err *err)
{
    struct text path;
    text_init(&path);
    bool done = session_ledger_path(session->options, &path, err) &&
                file_make_folders(path.data, err) &&
                restore(session, session->options->arguments[0], path.data, err);
    text_done(&path);
    return done;
}
