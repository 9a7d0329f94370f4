/* The commands: one table from which help, usage errors and dispatch derive. */
#ifndef SENBETSU_CLI_COMMANDS_H
#define SENBETSU_CLI_COMMANDS_H

#include "senbetsu/cli/session.h"

struct command {
    const char *name;
    const char *arguments[ARGUMENTS]; /* "KIND", "[FILE]": in brackets what may be left out */
    unsigned needs;                   /* OPTION_BITs it cannot do without */
    unsigned takes;                   /* OPTION_BITs it takes besides those and the common ones */
    const char *summary;              /* a line */
    const char *details;              /* lines for its --help, "" = none */
    bool (*run)(struct session *session, struct err *err);
};

extern const struct command commands[];
extern const int command_count;

/* NULL where there is none of this name. */
const struct command *command_find(const char *name);

/* "senbetsu pass --spawning S --stage T [--lot L] …" */
void command_usage(const struct command *command, struct text *out);

/* Usage, summary, details and options of one command: what `--help` after it prints. */
void command_help(const struct command *command, struct text *out);

/* How the program is used, with every command. */
void commands_help(struct text *out);

/* Does the command line fit the command? ERR_USAGE names what is missing or too much. */
bool command_check(const struct command *command, const struct options *options, struct err *err);

/* Runs what the words after the program's name ask for and prints what it has to say. */
bool commands_run(int count, const char *const *words, struct err *err);

bool command_import(struct session *session, struct err *err);
bool command_export(struct session *session, struct err *err);
bool command_pass(struct session *session, struct err *err);
bool command_rates(struct session *session, struct err *err);
bool command_compare(struct session *session, struct err *err);
bool command_day(struct session *session, struct err *err);
bool command_due(struct session *session, struct err *err);
bool command_pairs(struct session *session, struct err *err);
bool command_effects(struct session *session, struct err *err);
bool command_season(struct session *session, struct err *err);
bool command_list(struct session *session, struct err *err);
bool command_count_fish(struct session *session, struct err *err);
bool command_kin(struct session *session, struct err *err);
bool command_check_ledger(struct session *session, struct err *err);
bool command_backup(struct session *session, struct err *err);
bool command_restore(struct session *session, struct err *err);
bool command_show_help(struct session *session, struct err *err);
bool command_version(struct session *session, struct err *err);

#endif
