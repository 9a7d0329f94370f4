#include "senbetsu/cli/commands.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/host/output.h"
#include "senbetsu/store/spawnings.h"

#include <string.h>

enum kind {
    KIND_PARENTS,
    KIND_SPAWNINGS,
    KIND_ROUNDS,
    KIND_LOTS,
    KIND_FISH,
    KIND_STANDARD,
    KIND_COUNT
};

static const struct term kinds[KIND_COUNT] = {{"parents", ""}, {"spawnings", ""}, {"rounds", ""},
                                              {"lots", ""},    {"fish", ""},      {"standard", ""}};

/* Where in the arguments the file's name stands: after the standard's. */
static int file_argument(enum kind kind)
{
    return kind == KIND_STANDARD ? 2 : 1;
}

static bool check(const struct options *options, enum kind *ret_kind, struct err *err)
{
    int kind = term_find(kinds, KIND_COUNT, options->arguments[0]);
    bool filtered = options->given[OPTION_SPAWNING] || options->given[OPTION_STAGE] ||
                    options->given[OPTION_LOT];
    if (kind < 0)
        return err_set(err, ERR_USAGE,
                       "export knows no kind \"%s\"; it is parents, spawnings, rounds, lots, fish "
                       "or standard.",
                       options->arguments[0]);
    if (kind == KIND_STANDARD && options->argument_count < 2)
        return err_set(err, ERR_USAGE, "export standard needs NAME, the standard's.");
    if (options->argument_count > file_argument((enum kind)kind) + 1)
        return err_set(err, ERR_USAGE, "\"%s\" is one word too many for export %s.",
                       options->arguments[2], kinds[kind].word);
    if (kind != KIND_FISH && filtered)
        return err_set(err, ERR_USAGE, "--spawning, --stage and --lot go with export fish only.");
    *ret_kind = (enum kind)kind;
    return true;
}

static bool export_chosen_fish(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct export_filter filter = {
        .spawning = options->values[OPTION_SPAWNING],
        .lot = options->values[OPTION_LOT],
        .stage = options->given[OPTION_STAGE] ? (int)options_stage(options) : -1};
    struct spawning spawning;
    if (filter.spawning != NULL && !spawning_get(session->ledger, filter.spawning, &spawning, err))
        return false;
    return export_fish(session->ledger, &filter, &session->out, err);
}

static bool write_kind(struct session *session, enum kind kind, struct err *err)
{
    switch (kind) {
    case KIND_PARENTS:
        return export_parents(session->ledger, &session->out, err);
    case KIND_SPAWNINGS:
        return export_spawnings(session->ledger, &session->out, err);
    case KIND_ROUNDS:
        return export_rounds(session->ledger, &session->out, err);
    case KIND_LOTS:
        return export_lots(session->ledger, &session->out, err);
    case KIND_FISH:
        return export_chosen_fish(session, err);
    case KIND_STANDARD:
        return export_standard(session->ledger, session->options->arguments[1], &session->out, err);
    case KIND_COUNT:
        break;
    }
    return false;
}

bool command_export(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    enum kind kind = KIND_COUNT;
    if (!check(options, &kind, err) || !session_open(session, false, err) ||
        !write_kind(session, kind, err))
        return false;
    if (options->argument_count <= file_argument(kind))
        return true;
    if (!output_file(options->arguments[file_argument(kind)], &session->out, err))
        return false;
    text_clear(&session->out);
    return true;
}
