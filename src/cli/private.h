/* What the files of the command line share: the options, the session of one run, and the commands.
 * A command is a row in commands.c: from it come the usage errors, the help and the dispatch. */
#ifndef CLI_PRIVATE_H
#define CLI_PRIVATE_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/print/page.h"
#include "senbetsu/report/selection.h"
#include "senbetsu/store/ledger.h"
#include "senbetsu/store/rounds.h"

/* options.c: the words after the program's name, options in any order, then a command and its
 * arguments. */

enum option {
    OPTION_LEDGER,
    OPTION_JUDGE,
    OPTION_MONO,
    OPTION_BOUNCE,
    OPTION_HELP,
    OPTION_VERSION,
    OPTION_SPAWNING,
    OPTION_STAGE,
    OPTION_LOT,
    OPTION_PLACES,
    OPTION_STANDARD,
    OPTION_DRY_RUN,
    OPTION_DATE,
    OPTION_CSV,
    OPTION_ASCII,
    OPTION_TO,
    OPTION_FORCE,
    OPTION_PRINTER,
    OPTION_BY,
    OPTION_SAMPLE,
    OPTION_TOTAL,
    OPTION_SCOOPS,
    OPTION_WITHIN,
    OPTION_LENGTH,
    OPTION_BEFORE,
    OPTION_DAYS,
    OPTION_SEASON,
    OPTION_VARIETY,
    OPTION_FRY,
    OPTION_REPAIR,
    OPTION_NEW,
    OPTION_COUNT,
};

#define OPTION_BIT(option) (1U << (option))

/* What every command takes. */
#define OPTIONS_EVERYWHERE                                                                         \
    (OPTION_BIT(OPTION_LEDGER) | OPTION_BIT(OPTION_JUDGE) | OPTION_BIT(OPTION_MONO) |              \
     OPTION_BIT(OPTION_BOUNCE) | OPTION_BIT(OPTION_HELP) | OPTION_BIT(OPTION_VERSION))

enum { ARGUMENTS = 4, PLACES_MOST = 1000000, SAMPLES_MOST = 200, DAYS_MOST = 10000 };

struct option_row {
    const char *name;    /* "spawning" */
    const char *also;    /* another name that does the same; NULL = none */
    const char *value;   /* what its value is called, NULL = it takes none */
    bool may_stand_bare; /* the value may be left out */
    bool repeats;        /* it may be given more than once; there is one such option, --sample */
    const char *summary;
    int64_t lowest, highest;         /* of a whole number; highest 0 = it is none */
    bool (*fits)(const char *value); /* of anything else; NULL = any value will do */
    const char *expected;            /* what fits, for the error sentence */
};

extern const struct option_row option_rows[OPTION_COUNT];

struct options {
    const char *command; /* NULL = none */
    const char *arguments[ARGUMENTS];
    int argument_count; /* may be more than ARGUMENTS; the rest is only counted */
    bool given[OPTION_COUNT];
    const char *values[OPTION_COUNT]; /* NULL = not given, or given bare; the last one given */
    const char *samples[SAMPLES_MOST];
    int sample_count;
};

/* Takes `--name value`, `--name=value`, `--name`; everything after `--` is no option. Fails
 * (ERR_USAGE), naming the word: unknown option, given twice or too often, value missing, value
 * where none is taken, value that does not fit. The strings stay the caller's. */
bool options_parse(int count, const char *const *words, struct options *ret, struct err *err);

/* What --stage says, -1 where it was not given. */
int options_stage(const struct options *options);

/* What an option with a whole number says, `absent` where it was not given. */
int64_t options_whole(const struct options *options, enum option option, int64_t absent);

/* What an option with a measure says, 0 where it was not given. */
double options_measure(const struct options *options, enum option option);

/* "--places N", "--printer [NAME]", "--csv". */
void option_usage(enum option option, struct text *out);

/* session.c: one run of the program, with the ledger once it is needed, and what there is to say in
 * the end. */

struct session {
    const struct options *options;
    struct ledger *ledger; /* NULL until session_open */
    bool made;             /* session_open has made its file */
    struct text out;       /* goes to standard output when the command has succeeded */
};

/* How far a long piece of work is: told after a second, and no more than ten times in one. */
struct progress {
    const char *what; /* "Checking" */
    int64_t began_ms, told_ms;
};
struct progress progress_begin(const char *what);
void progress_tell(void *progress, int64_t done, int64_t of);

void session_init(struct session *session, const struct options *options);
void session_done(struct session *session);

/* The ledger's file: --ledger, else $SENBETSU_LEDGER, else $XDG_DATA_HOME/senbetsu/ledger.db, else
 * ~/.local/share/senbetsu/ledger.db. */
bool session_ledger_path(const struct options *options, struct text *ret_path, struct err *err);

enum ledger_use {
    LEDGER_NONE,   /* the command opens none, or does so itself */
    LEDGER_READ,   /* it is there, and nothing is written: damage is met where it is read */
    LEDGER_OPEN,   /* it is there, and is looked over first */
    LEDGER_CREATE, /* one that is not there yet is made, with the folders above it and the starting
                      standards in it */
};

bool session_open(struct session *session, enum ledger_use use, struct err *err);

/* Takes a ledger that session_open has made away again; one that was there before stays open. A
 * command that fails leaves nothing behind. */
void session_discard_new(struct session *session);

/* Who is at work: --judge, else $SENBETSU_JUDGE, else whoever wrote last; 0 = not said. A name not
 * seen before is added to the ledger, so this belongs into a command that writes. */
bool session_judge(struct session *session, int64_t *ret_judge, struct err *err);

/* --bounce, else $SENBETSU_BOUNCE, else BOUNCE_MS. */
bool session_bounce(const struct options *options, int *ret_ms, struct err *err);

/* The name given by --judge or $SENBETSU_JUDGE, NULL where there is none. */
const char *session_judge_name(const struct options *options);

/* What --variety, --season and --spawning narrow a report to. A variety is found in any spelling.
 * ERR_ABSENT where there is no such variety (the nearest is named) or spawning. */
bool session_selection(const struct session *session, struct selection *ret, struct err *err);

/* --date, else today. */
void session_day(const struct session *session, char ret_day[DATE_SIZE]);

/* --season, else the latest season so far that has a spawning. */
bool session_season(const struct session *session, int *ret, struct err *err);

/* The round that --spawning, --stage and --lot name. */
bool session_round(const struct session *session, struct round *ret, struct err *err);

/* 80 columns, --ascii, and endless where a person reads it on a terminal. */
struct page_setup session_page(const struct session *session);

/* Writes what there is to say to a file and clears it; --force replaces one that is there. */
bool session_write(struct session *session, const char *path, struct err *err);

/* Sends what there is to say --to its file or to the --printer, if one of them was asked for, else
 * to standard output. */
bool session_deliver(struct session *session, struct err *err);

/* commands.c: the table, what a command line must fit, dispatch. */

struct command {
    const char *name;
    const char *arguments[ARGUMENTS]; /* "KIND", "[FILE]": in brackets what may be left out */
    const char *words;                /* what they can be, for who left them out; may be NULL */
    unsigned needs;                   /* OPTION_BITs it cannot do without */
    unsigned takes;                   /* OPTION_BITs it takes besides those and the common ones */
    const char *summary;              /* a line */
    const char *details;              /* lines for its --help, "" = none */
    bool (*check)(const struct options *options, struct err *err); /* what the row cannot say */
    enum ledger_use ledger;
    bool (*run)(struct session *session, struct err *err);
};

extern const struct command commands[];
extern const int command_count;

/* NULL and ERR_USAGE where there is none of this name. */
const struct command *command_find(const char *name, struct err *err);

/* Does the command line fit the row? ERR_USAGE names what is missing or too much. */
bool command_check(const struct command *command, const struct options *options, struct err *err);

/* help.c */

/* "senbetsu pass --spawning S --stage T [--lot L] …" */
void command_usage(const struct command *command, struct text *out);

/* Usage, summary, details and options of one command: what `--help` after it prints. */
void command_help(const struct command *command, struct text *out);

/* How the program is used, with every command. */
void commands_help(struct text *out);

/* What the rows run, and what some of them check: reports.c */
bool report_day(struct session *session, struct err *err);
bool report_due(struct session *session, struct err *err);
bool report_rates(struct session *session, struct err *err);
bool report_compare(struct session *session, struct err *err);
bool report_pairs(struct session *session, struct err *err);
bool report_effects(struct session *session, struct err *err);
bool report_season(struct session *session, struct err *err);
bool report_kin(struct session *session, struct err *err);
bool report_list(struct session *session, struct err *err);
bool check_list(const struct options *options, struct err *err);

/* exchange.c */
#define KINDS "KIND is varieties, parents, spawnings, rounds, lots, fish or standard"
bool command_import(struct session *session, struct err *err);
bool command_export(struct session *session, struct err *err);
bool check_export(const struct options *options, struct err *err);

/* stations.c */
bool command_join(struct session *session, struct err *err);
bool check_join(const struct options *options, struct err *err);
bool command_station(struct session *session, struct err *err);
bool check_station(const struct options *options, struct err *err);

/* pass.c, count.c, upkeep.c */
bool command_pass(struct session *session, struct err *err);
bool command_count_fish(struct session *session, struct err *err);
bool command_check_ledger(struct session *session, struct err *err);
bool command_backup(struct session *session, struct err *err);
bool command_restore(struct session *session, struct err *err);

#endif
