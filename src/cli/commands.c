/* The table of commands, what a command line must fit, and dispatch. */
#include "senbetsu/cli/commands.h"
#include "private.h"
#include "senbetsu/screens/start.h"

#include <string.h>

/* Options that go together: what names a round, a table on the screen, a page for paper. */
#define ROUND (OPTION_BIT(OPTION_SPAWNING) | OPTION_BIT(OPTION_STAGE))
#define TABLE (OPTION_BIT(OPTION_CSV) | OPTION_BIT(OPTION_ASCII))
#define PAPER (TABLE | OPTION_BIT(OPTION_TO) | OPTION_BIT(OPTION_PRINTER))

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
    return app_run(session->ledger, &app, err);
}

/* The screens as a command without a name, so that options are checked alike. */
static const struct command screens = {
    .name = "senbetsu", .details = "", .ledger = LEDGER_CREATE, .run = run_screens};

const struct command commands[] = {
    {
        .name = "import",
        .arguments = {"KIND", "FILE"},
        .summary = "reads parents, spawnings, rounds, lots, fish or a standard",
        .details = "KIND is parents, spawnings, rounds, lots (their events) or fish (CSV), or\n"
                   "standard (INI): see docs/files.md.\n"
                   "All rows are taken or none; the first wrong row is named by its line and\n"
                   "column. Reading the same file again changes nothing.\n",
        .run = command_import,
    },
    {
        .name = "export",
        .arguments = {"KIND", "[NAME]", "[FILE]"},
        .takes = ROUND | OPTION_BIT(OPTION_LOT),
        .summary = "writes the same: parents, spawnings, rounds, lots, fish or a standard",
        .details = "KIND is parents, spawnings, rounds, lots, fish or standard. NAME is the\n"
                   "standard's and goes with no other kind. Without FILE it goes to standard\n"
                   "output. The options choose among the fish.\n",
        .check = check_export,
        .ledger = LEDGER_OPEN,
        .run = command_export,
    },
    {
        .name = "pass",
        .needs = ROUND,
        .takes = OPTION_BIT(OPTION_LOT) | OPTION_BIT(OPTION_PLACES) | OPTION_BIT(OPTION_STANDARD) |
                 OPTION_BIT(OPTION_DRY_RUN) | TABLE,
        .summary = "decides a round: keep, hold or reject for each fish, and why",
        .details = "Applies a standard to what was judged and records the result. With places, no\n"
                   "more fish are kept than there is room for, and no tie is broken by chance.\n",
        .ledger = LEDGER_OPEN,
        .run = command_pass,
    },
    {
        .name = "list",
        .takes = OPTION_BIT(OPTION_DATE) | ROUND | OPTION_BIT(OPTION_LOT) | PAPER,
        .summary = "the cull list of a day, or of a round",
        .details = "Either --date, or --spawning and --stage. Bowl by bowl: the fish to take out,\n"
                   "those to look at again, those not judged yet.\n",
        .check = check_list,
        .ledger = LEDGER_OPEN,
        .run = report_list,
    },
    {
        .name = "day",
        .needs = OPTION_BIT(OPTION_DATE),
        .takes = PAPER,
        .summary = "the day's sheet: what was looked at, kept, held, rejected and is left",
        .details = "Round by round, rejects by their reason; the numbers that were stated for\n"
                   "rounds of that day; and what happened to lots: docs/lots.md.\n",
        .ledger = LEDGER_READ,
        .run = report_day,
    },
    {
        .name = "due",
        .takes = OPTION_BIT(OPTION_DATE) | OPTION_BIT(OPTION_DAYS) | PAPER,
        .summary = "the culls that come next, and how many hours they will take",
        .details =
            "From the dates of the spawnings and the usual age at each cull; from --date on,\n"
            "else from today. The hours are at your own pace: docs/rates.md.\n",
        .ledger = LEDGER_READ,
        .run = report_due,
    },
    {
        .name = "rates",
        .takes = OPTION_BIT(OPTION_BY) | OPTION_BIT(OPTION_STAGE) | TABLE,
        .summary = "keep rates of rounds, with their intervals, and chained over stages",
        .details = "How many fish went into the culls, how many were kept, the share and its 95 %\n"
                   "interval: docs/rates.md.\n",
        .ledger = LEDGER_READ,
        .run = report_rates,
    },
    {
        .name = "compare",
        .arguments = {"PAIR", "PAIR"},
        .takes = OPTION_BIT(OPTION_STAGE) | PAPER,
        .summary = "two pairs side by side, season by season and together",
        .details =
            "PAIR is DAM+SIRE, or \"DAM+SIRE;SIRE\" of a group of males. Without --stage, what\n"
            "was kept at the last cull of what went into the first, of those that both pairs\n"
            "went through: docs/compare.md.\n",
        .ledger = LEDGER_READ,
        .run = report_compare,
    },
    {
        .name = "pairs",
        .takes =
            OPTION_BIT(OPTION_STAGE) | OPTION_BIT(OPTION_VARIETY) | OPTION_BIT(OPTION_FRY) | PAPER,
        .summary = "all pairs over the seasons, and what untried crosses may bring",
        .details =
            "Raw and expected keep rates, how sure they are, and which are likely to be the\n"
            "best. Without --stage, from the first cull to the last that half of the\n"
            "spawnings have come to: docs/pairs.md.\n",
        .ledger = LEDGER_READ,
        .run = report_pairs,
    },
    {
        .name = "effects",
        .takes = OPTION_BIT(OPTION_STAGE) | OPTION_BIT(OPTION_VARIETY) | PAPER,
        .summary = "what seasons, dams and sires have to do with the keep rate",
        .details =
            "How much of the difference between spawnings comes from dams, from sires, from\n"
            "their combination and from neither: docs/pairs.md, docs/parent-model.md.\n",
        .ledger = LEDGER_READ,
        .run = report_effects,
    },
    {
        .name = "season",
        .needs = OPTION_BIT(OPTION_YEAR),
        .takes = PAPER,
        .summary = "the season book: every spawning from its eggs to the fish kept",
        .details =
            "Parents, eggs and fry, each round's fish and how they were counted, keep rates\n"
            "with their intervals, and all together: docs/rates.md.\n",
        .ledger = LEDGER_READ,
        .run = report_season,
    },
    {
        .name = "count",
        .arguments = {"HOW"},
        .needs = OPTION_BIT(OPTION_SAMPLE),
        .takes = OPTION_BIT(OPTION_TOTAL) | OPTION_BIT(OPTION_SCOOPS) | OPTION_BIT(OPTION_WITHIN) |
                 OPTION_BIT(OPTION_LENGTH) | OPTION_BIT(OPTION_BEFORE) | OPTION_BIT(OPTION_DAYS) |
                 OPTION_BIT(OPTION_CSV),
        .summary = "how many fish there are, from samples that were counted",
        .details = "HOW is weighed or displaced, with --total and samples N:W (N fish that weigh,\n"
                   "or displace, W), or scooped, with --scoops and samples N (fish in one scoop).\n"
                   "--sample is given once for each. Of fish that were weighed, --length tells\n"
                   "size class and condition, --before and --days the growth: docs/counting.md.\n",
        .run = command_count_fish,
    },
    {
        .name = "kin",
        .arguments = {"CODE", "CODE"},
        .takes = TABLE,
        .summary = "how near two parents are, and the inbreeding of their offspring",
        .details = "CODE is a parent's. From all ancestors that are recorded: what the two are to\n"
                   "each other, which common ancestors it comes from, and what inbreeding did in\n"
                   "other fish: docs/kinship.md.\n",
        .ledger = LEDGER_READ,
        .run = report_kin,
    },
    {
        .name = "check",
        .summary = "looks through the whole ledger and says what is not right",
        .details =
            "A lot that more fish went from than there were is a remark: a number is wrong, the\n"
            "ledger is in order.\n",
        .ledger = LEDGER_OPEN,
        .run = command_check_ledger,
    },
    {
        .name = "backup",
        .arguments = {"FILE"},
        .summary = "writes a checked copy of the ledger to FILE, a new one",
        .details = "",
        .ledger = LEDGER_OPEN,
        .run = command_backup,
    },
    {
        .name = "restore",
        .arguments = {"FILE"},
        .summary = "puts the copy FILE in the ledger's place; what stood there is kept",
        .details = "",
        .run = command_restore,
    },
    {
        .name = "help",
        .arguments = {"[COMMAND]"},
        .summary = "how the program, or one of its commands, is used",
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
        return err_set(err, ERR_USAGE, "%s goes --to a file or to a --printer, not to both.",
                       command->name);
    return true;
}

bool command_check(const struct command *command, const struct options *options, struct err *err)
{
    int i = 0;
    for (; i < ARGUMENTS && command->arguments[i] != NULL; i++)
        if (i >= options->argument_count && command->arguments[i][0] != '[')
            return err_set(err, ERR_USAGE, "%s needs %s.", command->name, command->arguments[i]);
    if (options->argument_count > i)
        return err_set(err, ERR_USAGE, "\"%s\" is one argument too many for %s.",
                       options->arguments[i], command->name);
    return check_options(command, options, err);
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
           session_open(session, command->ledger, err) && command->run(session, err);
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
