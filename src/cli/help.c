/* Usage lines and help, derived from the tables of commands and options, so that an option that a
 * command takes is in its help without another word. */
#include "private.h"

#include <string.h>

static void add_option_usage(unsigned set, bool optional, struct text *out)
{
    for (int option = 0; option < OPTION_COUNT; option++) {
        if (!(set & OPTION_BIT(option)))
            continue;
        text_add(out, optional ? " [" : " ");
        option_usage((enum option)option, out);
        text_add(out, optional ? "]" : "");
    }
}

void command_usage(const struct command *command, struct text *out)
{
    text_addf(out, "senbetsu %s", command->name);
    for (int i = 0; i < ARGUMENTS && command->arguments[i] != NULL; i++)
        text_addf(out, " %s", command->arguments[i]);
    add_option_usage(command->needs, false, out);
    add_option_usage(command->takes, true, out);
}

static void add_option_lines(unsigned set, struct text *out)
{
    for (int option = 0; option < OPTION_COUNT; option++) {
        if (!(set & OPTION_BIT(option)))
            continue;
        struct text usage;
        text_init(&usage);
        option_usage((enum option)option, &usage);
        text_add(out, "  ");
        text_add_column(out, usage.data, 20);
        text_addf(out, "  %s\n", option_rows[option].summary);
        text_done(&usage);
    }
}

/* The length of the next piece of a usage line that must not be broken: "--lot", "[--lot L]". */
static size_t piece_length(const char *piece)
{
    int open = 0;
    size_t length = 0;
    for (; piece[length] != '\0' && (open > 0 || piece[length] != ' '); length++)
        open += piece[length] == '[' ? 1 : piece[length] == ']' ? -1 : 0;
    return length;
}

/* Breaks a usage line between its pieces, so that it fits a terminal. */
static void add_wrapped(const char *line, struct text *out)
{
    enum { WIDTH = 80, INDENT = 16 };
    size_t column = strlen("Usage:");
    text_add(out, "Usage:");
    while (*line != '\0') {
        size_t length = piece_length(line);
        if (column + 1 + length > WIDTH) {
            text_addf(out, "\n%*s", INDENT - 1, "");
            column = INDENT - 1;
        }
        text_add(out, " ");
        text_add_bytes(out, line, length);
        column += 1 + length;
        line += length + (line[length] == ' ');
    }
    text_add(out, "\n");
}

void command_help(const struct command *command, struct text *out)
{
    struct text usage;
    text_init(&usage);
    command_usage(command, &usage);
    add_wrapped(usage.data, out);
    text_done(&usage);
    text_addf(out, "\n%s: %s.\n%s\n", command->name, command->summary, command->details);
    add_option_lines(command->needs | command->takes, out);
    add_option_lines(OPTIONS_EVERYWHERE, out);
}

void commands_help(struct text *out)
{
    text_add(out, "Usage: senbetsu [--ledger FILE] [COMMAND …]\n\n"
                  "The culling and selection ledger of a breeder of ornamental carp. Without a\n"
                  "command it opens the screens.\n\n");
    for (int i = 0; i < command_count; i++) {
        text_add(out, "  ");
        text_add_column(out, commands[i].name, 9);
        text_addf(out, " %s\n", commands[i].summary);
    }
    text_add(out, "\n`senbetsu COMMAND --help` explains a command. Options of every command:\n\n");
    add_option_lines(OPTIONS_EVERYWHERE, out);
}
