#include "senbetsu/cli/commands.h"
#include "senbetsu/cli/file.h"
#include "senbetsu/cli/import.h"

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

/* Who imports is written first, for the judges' names in the file are written as well. */
static bool import_all(struct session *session, const struct kind *kind, struct import *import,
                       struct err *err)
{
    if (!ledger_begin(session->ledger, err))
        return false;
    if (session_judge(session, &import->judge, err) && kind->import(import, err) &&
        ledger_commit(session->ledger, err))
        return true;
    ledger_rollback(session->ledger);
    return false;
}

/* "fish.csv: 60 read, 58 new, 2 changed, 0 as before." */
static void report(const struct import *import, struct text *out)
{
    text_addf(out, "%s: %zu read, %zu new, %zu changed, %zu as before.\n", import->file,
              import->added + import->changed + import->same, import->added, import->changed,
              import->same);
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
        if (done)
            report(&import, &session->out);
        else
            session_discard_new(session);
    }
    text_done(&bytes);
    return done;
}
