#include "senbetsu/cli/commands.h"

bool command_version(struct session *session, struct err *err)
{
    (void)err;
    text_add(&session->out, "senbetsu " SENBETSU_VERSION "\n");
    return true;
}
