#include "senbetsu/cli/commands.h"

bool command_show_help(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    if (options->argument_count == 0) {
        commands_help(&session->out);
        return true;
    }
    const struct command *command = command_find(options->arguments[0]);
    if (command == NULL)
        return err_set(err, ERR_USAGE, "There is no command \"%s\"; senbetsu help names them all.",
                       options->arguments[0]);
    command_help(command, &session->out);
    return true;
}
