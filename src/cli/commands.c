/* The table of commands, what a command line must fit, and dispatch. A command line is checked in
 * full before the ledger is opened, so a mistyped option never waits for a disk nor makes a file.
 */
#include "senbetsu/cli/commands.h"
#include "private.h"
#include "senbetsu/host/output.h"
#include "senbetsu/screens/start.h"
#include "senbetsu/store/daily.h"

#include <string.h>

/* Options that go together: what names a round, what narrows a report, a table on the screen, a
 * page for paper. */
#define ROUND (OPTION_BIT(OPTION_SPAWNING) | OPTION_BIT(OPTION_STAGE))
#define NARROWED                                                                                   \
    (OPTION_BIT(OPTION_VARIETY) | OPTION_BIT(OPTION_SEASON) | OPTION_BIT(OPTION_SPAWNING))
#define TABLE (OPTION_BIT(OPTION_CSV) | OPTION_BIT(OPTION_ASCII))
#define PAPER                                                                                      \
    (TABLE | OPTION_BIT(OPTION_TO) | OPTION_BIT(OPTION_FORCE) | OPTION_BIT(OPTION_PRINTER))

static bool run_help(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    const struct command *command = NULL;
    if (options->argument_count > 0) {
        command = command_find(options->arguments[0], err);
        if (command == NULL)
            return false;
        command_help(command, &session->out);
    } else {
        commands_help(&session->out);
    }
    return true;
}

static bool run_version(struct session *session, struct err *err)
{
    (void)err;
    text_add(&session->out, "senbetsu " SENBETSU_VERSION "\n");
    return true;
}

static bool run_screens(struct session *session, struct err *err)
{
    struct app_options app = {.judge = session_judge_name(session->options),
                              .mono = session->options->given[OPTION_MONO]};
    struct err why;
    if (!session_bounce(session->options, &app.bounce_ms, err) ||
        !app_run(session->ledger, &app, err))
        return false;
    if (!daily_copy(session->ledger, &why))
        output_note(why.text);
    return true;
}

/* The screens as a command without a name, so that options are checked alike. */
static const struct command screens = {
    .name = "senbetsu", .details = "", .ledger = LEDGER_CREATE, .run = run_screens};

const struct command commands[] = {
    {
        .name = "import",
        .arguments = {"KIND", "FILE"},
        .words = KINDS,
        .summary = "reads varieties, parents, spawnings, rounds, lots, fish or a standard",
        .details = "KIND is varieties, parents, spawnings, rounds, lots (their events) or fish\n"
                   "(CSV), or standard (INI): see docs/files.md.\n"
                   "A file is imported completely or not at all; the first error is named by line\n"
                   "and column. Importing the same file again changes nothing.\n",
        .run = command_import,
    },
    {
        .name = "export",
        .arguments = {"KIND", "[NAME]", "[FILE]"},
        .words = KINDS,
        .takes = ROUND | OPTION_BIT(OPTION_LOT) | OPTION_BIT(OPTION_FORCE),
        .summary = "writes varieties, parents, spawnings, rounds, lots, fish or a standard",
        .details = "KIND is varieties, parents, spawnings, rounds, lots, fish or standard. Only a\n"
                   "standard has a NAME. Without FILE the export goes to standard output. The\n"
                   "options select fish.\n",
        .check = check_export,
        .ledger = LEDGER_READ,
        .run = command_export,
    },
    {
        .name = "pass",
        .needs = ROUND,
        .takes = OPTION_BIT(OPTION_LOT) | OPTION_BIT(OPTION_PLACES) | OPTION_BIT(OPTION_STANDARD) |
                 OPTION_BIT(OPTION_DRY_RUN) | TABLE,
        .summary = "decides a round: keeps, holds or rejects each fish, with the reason",
        .details = "Applies a standard to the judgements and records the result. With places, no\n"
                   "more fish are kept than there are places, and no tie is broken by chance.\n",
        .ledger = LEDGER_OPEN,
        .run = command_pass,
    },
    {
        .name = "list",
        .takes = OPTION_BIT(OPTION_DATE) | ROUND | OPTION_BIT(OPTION_LOT) | PAPER,
        .summary = "the cull list of a day, or of a round",
        .details =
            "Takes --date, or --spawning and --stage; else it is today's. In the order of the\n"
            "work: what it rests on, what to read first, then basin by basin or bowl by bowl\n"
            "what is taken out: docs/cull-list.md.\n",
        .check = check_list,
        .ledger = LEDGER_READ,
        .run = report_list,
    },
    {
        .name = "day",
        .takes = OPTION_BIT(OPTION_DATE) | PAPER,
        .summary = "the day's sheet: fish looked at, kept, held, rejected and left",
        .details =
            "Round by round, with rejects by reason; numbers stated for rounds of that day;\n"
            "and what happened to lots: docs/cull-list.md.\n",
        .ledger = LEDGER_READ,
        .run = report_day,
    },
    {
        .name = "due",
        .takes = OPTION_BIT(OPTION_DATE) | OPTION_BIT(OPTION_DAYS) | NARROWED | PAPER,
        .summary = "the culls that are due, and how many hours they will take",
        .details = "From the dates of the spawnings and the usual age at each cull, counted from\n"
                   "--date, else today. The hours are at your own pace: docs/rates.md.\n",
        .ledger = LEDGER_READ,
        .run = report_due,
    },
    {
        .name = "rates",
        .takes = OPTION_BIT(OPTION_BY) | OPTION_BIT(OPTION_STAGE) | NARROWED | TABLE,
        .summary = "keep rates with their intervals, by stage and chained over stages",
        .details = "How many fish went into each cull, how many were kept, the share and its 95 %\n"
                   "interval: docs/rates.md.\n",
        .ledger = LEDGER_READ,
        .run = report_rates,
    },
    {
        .name = "compare",
        .arguments = {"PAIR", "PAIR"},
        .words = "PAIR is DAM+SIRE, or \"DAM+SIRE;SIRE\"",
        .takes = OPTION_BIT(OPTION_STAGE) | OPTION_BIT(OPTION_VARIETY) | OPTION_BIT(OPTION_SEASON) |
                 PAPER,
        .summary = "compares two pairs, season by season and over all seasons",
        .details =
            "PAIR is DAM+SIRE, or \"DAM+SIRE;SIRE\" for a group of males. Without --stage: what\n"
            "the last cull that both pairs went through kept of the fish that went into the\n"
            "first: docs/compare.md.\n",
        .ledger = LEDGER_READ,
        .run = report_compare,
    },
    {
        .name = "pairs",
        .takes = OPTION_BIT(OPTION_STAGE) | OPTION_BIT(OPTION_VARIETY) | OPTION_BIT(OPTION_SEASON) |
                 OPTION_BIT(OPTION_FRY) | PAPER,
        .summary = "ranks all pairs, and the crosses not tried yet",
        .details =
            "Raw and expected keep rates, how certain they are, and the chance of each to be\n"
            "among the best. Without --stage: from the first cull to the last that half of\n"
            "the spawnings have reached: docs/pairs.md.\n",
        .ledger = LEDGER_READ,
        .run = report_pairs,
    },
    {
        .name = "effects",
        .takes = OPTION_BIT(OPTION_STAGE) | OPTION_BIT(OPTION_VARIETY) | OPTION_BIT(OPTION_SEASON) |
                 PAPER,
        .summary = "how much seasons, dams and sires affect the keep rate",
        .details =
            "How much of the difference between spawnings comes from dams, from sires, from\n"
            "their combination and from none of them: docs/pairs.md, docs/parent-model.md.\n",
        .ledger = LEDGER_READ,
        .run = report_effects,
    },
    {
        .name = "season",
        .takes = NARROWED | PAPER,
        .summary = "the season book: every spawning from its eggs to the fish kept",
        .details =
            "Parents, eggs and fry, each round's fish and how they were counted, keep rates\n"
            "with their intervals, and all together: docs/rates.md. Without --season: the\n"
            "latest season so far.\n",
        .ledger = LEDGER_READ,
        .run = report_season,
    },
    {
        .name = "count",
        .arguments = {"HOW"},
        .words = "HOW is weighed, displaced or scooped",
        .needs = OPTION_BIT(OPTION_SAMPLE),
        .takes = OPTION_BIT(OPTION_TOTAL) | OPTION_BIT(OPTION_SCOOPS) | OPTION_BIT(OPTION_WITHIN) |
                 OPTION_BIT(OPTION_LENGTH) | OPTION_BIT(OPTION_BEFORE) | OPTION_BIT(OPTION_DAYS) |
                 OPTION_BIT(OPTION_CSV),
        .summary = "how many fish there are, from counted samples",
        .details =
            "HOW is weighed or displaced, with --total and samples N:W (N fish that weigh,\n"
            "or displace, W), or scooped, with --scoops and samples N (fish in one scoop).\n"
            "Give --sample once for each sample. For weighed fish, --length adds size class\n"
            "and condition, --before and --days the growth: docs/counting.md.\n",
        .run = command_count_fish,
    },
    {
        .name = "kin",
        .arguments = {"CODE", "CODE"},
        .words = "the codes of two parents",
        .takes = TABLE,
        .summary = "how closely two parents are related, and how inbred their young are",
        .details =
            "CODE is a parent's. From all recorded ancestors: how the two are related, which\n"
            "common ancestors contribute, and the effects of inbreeding in other fish:\n"
            "docs/kinship.md.\n",
        .ledger = LEDGER_READ,
        .run = report_kin,
    },
    {
        .name = "check",
        .takes = OPTION_BIT(OPTION_REPAIR),
        .summary = "checks the whole ledger and reports what is wrong",
        .details = "Nothing is changed. What is wrong is said with what to do about it; a remark\n"
                   "is something unlikely that is worth a look. With --repair, what is derived\n"
                   "from what was recorded is worked out anew where it is wrong, and nothing\n"
                   "else: docs/ledger.md.\n",
        .ledger = LEDGER_READ,
        .run = command_check_ledger,
    },
    {
        .name = "backup",
        .arguments = {"FILE"},
        .summary = "writes a checked copy of the ledger to FILE, which must not exist",
        .details = "",
        .ledger = LEDGER_READ,
        .run = command_backup,
    },
    {
        .name = "restore",
        .arguments = {"FILE"},
        .summary = "puts the copy FILE in the ledger's place and keeps the old ledger",
        .details = "",
        .run = command_restore,
    },
    {
        .name = "join",
        .arguments = {"[FILE]"},
        .takes = OPTION_BIT(OPTION_DRY_RUN) | OPTION_BIT(OPTION_ASCII),
        .summary = "adds another station's ledger; without FILE: what is to be decided",
        .details =
            "FILE is only read, and this ledger is copied first. Joining in any order, and any\n"
            "number of times, comes to the same. With --dry-run it is only shown what would\n"
            "come, and what both stations changed differently: docs/stations.md.\n",
        .check = check_join,
        .ledger = LEDGER_OPEN,
        .run = command_join,
    },
    {
        .name = "station",
        .arguments = {"[NAME]"},
        .takes = OPTION_BIT(OPTION_NEW),
        .summary = "names the station that this ledger is; without NAME: lists all",
        .details = "A copy of a ledger becomes a station of its own when it is opened. Where that\n"
                   "cannot be seen, as on a cloned disk, station NAME --new does it:\n"
                   "docs/stations.md.\n",
        .check = check_station,
        .ledger = LEDGER_OPEN,
        .run = command_station,
    },
    {
        .name = "help",
        .arguments = {"[COMMAND]"},
        .summary = "shows how the program or a command is used",
        .details = "",
        .run = run_help,
    },
    {
        .name = "version",
        .summary = "name and version of the program",
        .details = "",
        .run = run_version,
    },
};

const int command_count = sizeof commands / sizeof commands[0];

const struct command *command_find(const char *name, struct err *err)
{
    for (int i = 0; i < command_count; i++)
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
    err_set(err, ERR_USAGE, "There is no command \"%s\"; senbetsu help lists the commands.", name);
    return NULL;
}

static bool check_options(const struct command *command, const struct options *options,
                          struct err *err)
{
    unsigned known = command->needs | command->takes | OPTIONS_EVERYWHERE;
    for (int option = 0; option < OPTION_COUNT; option++) {
        if (options->given[option] && !(known & OPTION_BIT(option)))
            return err_set(err, ERR_USAGE, "%s takes no option --%s.", command->name,
                           option_rows[option].name);
        if (!options->given[option] && (command->needs & OPTION_BIT(option)))
            return err_set(err, ERR_USAGE, "%s needs --%s %s.", command->name,
                           option_rows[option].name, option_rows[option].value);
    }
    if (options->given[OPTION_TO] && options->given[OPTION_PRINTER])
        return err_set(err, ERR_USAGE, "%s takes --to or --printer, not both.", command->name);
    return true;
}

/* "import needs KIND FILE: KIND is parents, …". All that it needs is named, for whoever left one
 * out seldom knows the others. */
static bool refuse_arguments(const struct command *command, int needed, struct err *err)
{
    struct text text;
    text_init(&text);
    for (int i = 0; i < needed; i++)
        text_addf(&text, " %s", command->arguments[i]);
    err_set(err, ERR_USAGE, "%s needs%s%s%s.", command->name, text.data,
            command->words != NULL ? ": " : "", command->words != NULL ? command->words : "");
    text_done(&text);
    return false;
}

bool command_check(const struct command *command, const struct options *options, struct err *err)
{
    int i = 0, needed = 0;
    for (; i < ARGUMENTS && command->arguments[i] != NULL; i++)
        needed += command->arguments[i][0] != '[';
    if (options->argument_count < needed)
        return refuse_arguments(command, needed, err);
    if (options->argument_count > i)
        return err_set(err, ERR_USAGE, "\"%s\" is one argument too many for %s.",
                       options->arguments[i], command->name);
    return check_options(command, options, err);
}

/* The screens read as they are looked at. */
static bool run_command(const struct command *command, struct session *session, struct err *err)
{
    struct ledger *ledger = command != &screens ? session->ledger : NULL;
    if (ledger != NULL)
        ledger_read_begin(ledger);
    bool done = command->run(session, err);
    if (ledger != NULL)
        ledger_read_end(ledger);
    return done;
}

/* --version and --help go before everything that may be wrong with a command line. */
static bool run(const struct command *command, struct session *session, struct err *err)
{
    const struct options *options = session->options;
    if (options->given[OPTION_VERSION])
        return run_version(session, err);
    if (options->given[OPTION_HELP] && options->command == NULL) {
        commands_help(&session->out);
        return true;
    }
    if (options->given[OPTION_HELP]) {
        command_help(command, &session->out);
        return true;
    }
    return command_check(command, options, err) &&
           (command->check == NULL || command->check(options, err)) &&
           session_open(session, options->given[OPTION_REPAIR] ? LEDGER_OPEN : command->ledger,
                        err) &&
           run_command(command, session, err);
}

bool commands_run(int count, const char *const *words, struct err *err)
{
    struct options options;
    struct session session;
    if (!options_parse(count, words, &options, err))
        return false;
    const struct command *command =
        options.command == NULL ? &screens : command_find(options.command, err);
    if (command == NULL)
        return false;
    session_init(&session, &options);
    bool done = run(command, &session, err) && session_deliver(&session, err);
    session_done(&session);
    return done;
}
