/* `check`, `backup` and `restore`: the care of the ledger file. Backup and restore copy through
 * SQLite and look the copy over before it counts; restore opens no ledger, for the one in place may
 * be the damaged one. */
#include "private.h"
#include "senbetsu/base/number.h"
#include "senbetsu/host/file.h"
#include "senbetsu/host/machine.h"
#include "senbetsu/host/output.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/check.h"
#include "senbetsu/store/restore.h"

#include <inttypes.h>
#include <limits.h>
#include <string.h>

/* Hears of a check. */
struct checking {
    struct text *out;
    struct progress progress;
};

static void tell_progress(void *context, int done, int of)
{
    struct checking *checking = context;
    progress_tell(&checking->progress, done, of);
}

static void add_finding(void *context, const struct finding *finding)
{
    struct checking *checking = context;
    struct text *out = checking->out;
    const char *lead = finding->repaired ? "Repaired: " : finding->remark ? "Remark: " : "";
    size_t shown = 0;
    for (const char *line = finding->lines; *line != '\0'; shown++) {
        size_t length = strcspn(line, "\n");
        text_add(out, lead);
        text_add_bytes(out, line, length + 1);
        line += length + 1;
    }
    if (finding->says[0] == '\0' && finding->count > shown)
        text_addf(out, "… and %zu more like %s.\n", finding->count - shown,
                  shown > 1 ? "them" : "it");
    if (!finding->repaired)
        text_addf(out, "    %s\n", finding->means);
    if (finding->says[0] != '\0')
        text_addf(out, "    (For whoever looks after the file: %s.)\n", finding->says);
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

static void add_summary(const struct check_result *result, struct text *out)
{
    char fish[NUMBER_SIZE];
    number_grouped(result->fish, fish);
    text_addf(out,
              "Nothing is wrong: %s fish of %" PRId64 " bowls, %" PRId64 " culls, %" PRId64
              " lots and %" PRId64 " parents, checked in full.\n",
              fish, result->bowls, result->rounds, result->lots, result->parents);
}

static bool fail_check(const struct check_result *result, struct err *err)
{
    return err_set(err, ERR_LEDGER, "The ledger is not in order: %zu finding%s.", result->wrong,
                   result->wrong == 1 ? "" : "s");
}

bool command_check_ledger(struct session *session, struct err *err)
{
    struct checking checking = {&session->out, progress_begin("Checking")};
    struct check_listener listener = {add_finding, tell_progress, &checking};
    struct check_result result;
    bool repairs = session->options->given[OPTION_REPAIR];
    bool done = repairs ? ledger_repair(session->ledger, &listener, &result, err)
                        : ledger_check(session->ledger, &listener, &result, err);
    output_progress(NULL, 0, 0);
    if (!done)
        return output_standard(&session->out, NULL) && false;
    if (repairs) {
        if (result.repaired == 0)
            text_add(&session->out, "There was nothing to repair.\n");
        else
            text_addf(&session->out, "%zu repaired. See what senbetsu check says now.\n",
                      result.repaired);
        return true;
    }
    if (result.wrong > 0)
        return output_standard(&session->out, err) && fail_check(&result, err);
    if (!add_overdrawn(session, err))
        return false;
    add_summary(&result, &session->out);
    return true;
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
