#include "senbetsu/cli/commands.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/host/file.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/store/lot_origins.h"

#include <string.h>

struct kind {
    const char *word;
    bool (*import)(struct import *import, struct err *err);
};

static const struct kind kinds[] = {
    {"parents", import_parents}, {"spawnings", import_spawnings}, {"rounds", import_rounds},
    {"lots", import_lots},       {"fish", import_fish},           {"standard", import_standard},
};

static const struct kind *find_kind(const char *word, struct err *err)
{
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (strcmp(kinds[i].word, word) == 0)
            return &kinds[i];
    err_set(
        err, ERR_USAGE,
        "import knows no kind \"%s\"; it is parents, spawnings, rounds, lots, fish or standard.",
        word);
    return NULL;
}

struct lots {
    struct lot_origin *all;
    size_t count;
};

static bool list_lots(struct ledger *ledger, struct lots *ret, struct err *err)
{
    return lot_origins_list(ledger, &ret->all, &ret->count, err);
}

/* "lots.csv: lot nrth of K26-1 begun." A name that was mistyped is seen here; a spawning's own lot
 * has none. */
static void report_begun(const struct import *import, const struct lots *before,
                         const struct lots *after, struct text *out)
{
    for (size_t i = 0; i < after->count; i++) {
        const struct lot_origin *lot = &after->all[i];
        if (lot->own || lot_origin_find(before->all, before->count, lot->lot_id) != NULL)
            continue;
        text_addf(out, "%s: lot ", import->file);
        lot_title_add(lot->mixed ? "" : lot->spawnings, lot->lot, out);
        text_addf(out, "%s%s begun.\n", lot->mixed ? " from " : "",
                  lot->mixed ? lot->spawnings : "");
    }
}

/* "fish.csv: 60 read, 58 new, 2 changed, 0 as before." */
static void report(const struct import *import, struct text *out)
{
    text_addf(out, "%s: %zu read, %zu new, %zu changed, %zu as before.\n", import->file,
              import->added + import->changed + import->same, import->added, import->changed,
              import->same);
}

/* Who imports is written first, for the judges' names in the file are written as well. */
static bool import_lines(struct session *session, const struct kind *kind, struct import *import,
                         struct err *err)
{
    struct lots before = {NULL, 0}, after = {NULL, 0};
    bool done = session_judge(session, &import->judge, err) &&
                list_lots(session->ledger, &before, err) && kind->import(import, err) &&
                list_lots(session->ledger, &after, err) && ledger_commit(session->ledger, err);
    if (done) {
        report(import, &session->out);
        report_begun(import, &before, &after, &session->out);
    }
    lot_origins_free(before.all, before.count);
    lot_origins_free(after.all, after.count);
    return done;
}

static bool import_all(struct session *session, const struct kind *kind, struct import *import,
                       struct err *err)
{
    if (!ledger_begin(session->ledger, err))
        return false;
    if (import_lines(session, kind, import, err))
        return true;
    ledger_rollback(session->ledger);
    return false;
}

bool command_import(struct session *session, struct err *err)
{
    const char *path = session->options->arguments[1];
    const struct kind *kind = find_kind(session->options->arguments[0], err);
    struct text bytes;
    if (kind == NULL)
        return false;
    text_init(&bytes);
    bool done = file_read(path, &bytes, err) && session_open(session, true, err);
    if (done) {
        struct import import = {.ledger = session->ledger,
                                .file = file_name(path),
                                .bytes = bytes.data,
                                .length = bytes.length};
        done = import_all(session, kind, &import, err);
        if (!done)
            session_discard_new(session);
    }
    text_done(&bytes);
    return done;
}
