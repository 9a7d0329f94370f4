/* `import` and `export`: files in and out, by one table of kinds. The forms are in docs/files.md.
 */
#include "senbetsu/exchange/exchange.h"
#include "private.h"
#include "senbetsu/host/file.h"
#include "senbetsu/host/output.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/varieties.h"

#include <stdlib.h>
#include <string.h>

/* Fish are exported by the options, a standard by its name. */
static const struct kind {
    const char *word;
    bool (*import)(struct import *import, struct err *err);
    bool (*export)(struct ledger *ledger, struct text *out, struct err *err);
} kinds[] = {
    {"varieties", import_varieties, export_varieties},
    {"parents", import_parents, export_parents},
    {"spawnings", import_spawnings, export_spawnings},
    {"rounds", import_rounds, export_rounds},
    {"lots", import_lots, export_lots},
    {"fish", import_fish, NULL},
    {"standard", import_standard, NULL},
};

static const struct kind *find_kind(const char *word, struct err *err)
{
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(kinds[i].word, word) == 0)
            return &kinds[i];
    err_set(err, ERR_USAGE, "\"%s\" is not valid: " KINDS ".", word);
    return NULL;
}

/* What a file may begin besides what it is a file of. */
struct beside {
    struct lot_origin *lots;
    size_t lot_count;
    struct variety *varieties;
    size_t variety_count;
};

static bool read_beside(struct ledger *ledger, struct beside *ret, struct err *err)
{
    return lot_origins_list(ledger, &ret->lots, &ret->lot_count, err) &&
           variety_list(ledger, &ret->varieties, &ret->variety_count, err);
}

static void beside_done(struct beside *beside)
{
    lot_origins_free(beside->lots, beside->lot_count);
    free(beside->varieties);
}

/* "lots.csv: lot nrth of K26-1 begun.", "spawnings.csv: new variety Aka Sora added." Says so
 * because a mistyped name begins one too; a spawning's own lot has no code. */
static void report_begun(const struct import *import, const struct beside *before,
                         const struct beside *after, struct text *out)
{
    for (size_t i = 0; i < after->variety_count; i++)
        if (variety_find(before->varieties, before->variety_count, after->varieties[i].name) ==
            NULL)
            text_addf(out, "%s: new variety %s added.\n", import->file, after->varieties[i].name);
    for (size_t i = 0; i < after->lot_count; i++) {
        const struct lot_origin *lot = &after->lots[i];
        if (lot->own || lot_origin_find(before->lots, before->lot_count, lot->lot_id) != NULL)
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
    struct beside before = {.lots = NULL}, after = {.lots = NULL};
    bool done = session_judge(session, &import->judge, err) &&
                read_beside(session->ledger, &before, err) && kind->import(import, err) &&
                read_beside(session->ledger, &after, err) &&
                transaction_commit(session->ledger, err);
    if (done) {
        report(import, &session->out);
        if (kind->import != import_varieties)
            report_begun(import, &before, &after, &session->out);
    }
    beside_done(&before);
    beside_done(&after);
    return done;
}

static bool import_all(struct session *session, const struct kind *kind, struct import *import,
                       struct err *err)
{
    if (!transaction_begin(session->ledger, err))
        return false;
    if (import_lines(session, kind, import, err))
        return true;
    transaction_rollback(session->ledger);
    return false;
}

/* How much of the file has been read tells how far it is; of a pipe nobody knows. */
struct coming {
    struct file_reader file;
    struct progress progress;
};

static void tell(void *context, size_t done)
{
    struct coming *coming = context;
    (void)done;
    if (coming->file.size > 0)
        progress_tell(&coming->progress, coming->file.read, coming->file.size);
}

/* Fish are read as they come, for there may be many; but a pipe is read to its end first, since
 * nobody else can write while it is waited for. */
static bool import_file(struct session *session, const struct kind *kind, struct coming *coming,
                        struct err *err)
{
    struct text bytes;
    bool comes = kind->import == import_fish && coming->file.size > 0;
    struct import import = {.ledger = session->ledger,
                            .file = file_name(coming->file.path),
                            .bytes = &bytes,
                            .more = comes ? file_more : NULL,
                            .source = &coming->file,
                            .tell = tell,
                            .context = coming};
    text_init(&bytes);
    bool done =
        (comes || file_rest(&coming->file, &bytes, err)) && import_all(session, kind, &import, err);
    output_progress(NULL, 0, 0);
    text_done(&bytes);
    return done;
}

bool command_import(struct session *session, struct err *err)
{
    const struct kind *kind = find_kind(session->options->arguments[0], err);
    struct coming coming = {.progress = progress_begin("Importing")};
    if (kind == NULL || !file_open(session->options->arguments[1], &coming.file, err))
        return false;
    bool done = session_open(session, LEDGER_CREATE, err);
    if (done) {
        done = import_file(session, kind, &coming, err);
        if (!done)
            session_discard_new(session);
    }
    file_close(&coming.file);
    return done;
}

static bool is_standard(const struct options *options)
{
    return strcmp(options->arguments[0], "standard") == 0;
}

/* Where in the arguments the file's name stands: after the standard's. */
static int file_argument(const struct options *options)
{
    return is_standard(options) ? 2 : 1;
}

bool check_export(const struct options *options, struct err *err)
{
    const char *word = options->arguments[0];
    bool filtered = options->given[OPTION_SPAWNING] || options->given[OPTION_STAGE] ||
                    options->given[OPTION_LOT];
    if (find_kind(word, err) == NULL)
        return false;
    if (is_standard(options) && options->argument_count < 2)
        return err_set(err, ERR_USAGE, "export standard needs NAME, the name of the standard.");
    if (options->argument_count > file_argument(options) + 1)
        return err_set(err, ERR_USAGE, "\"%s\" is one argument too many for export %s.",
                       options->arguments[2], word);
    if (strcmp(word, "fish") != 0 && filtered)
        return err_set(err, ERR_USAGE, "--spawning, --stage and --lot go with export fish only.");
    return true;
}

static bool export_chosen_fish(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct export_filter filter = {.spawning = options->values[OPTION_SPAWNING],
                                   .lot = options->values[OPTION_LOT],
                                   .stage = options_stage(options)};
    struct spawning spawning;
    if (filter.spawning != NULL && !spawning_get(session->ledger, filter.spawning, &spawning, err))
        return false;
    return export_fish(session->ledger, &filter, &session->out, err);
}

bool command_export(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    const struct kind *kind = find_kind(options->arguments[0], err);
    int file = file_argument(options);
    if (kind == NULL)
        return false;
    if (kind->export != NULL ? !kind->export(session->ledger, &session->out, err)
        : is_standard(options)
            ? !export_standard(session->ledger, options->arguments[1], &session->out, err)
            : !export_chosen_fish(session, err))
        return false;
    return options->argument_count <= file || session_write(session, options->arguments[file], err);
}
