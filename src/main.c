#include "senbetsu/cli/commands.h"

#include <stdio.h>

int main(int count, char **words)
{
    struct err err = {0};
    if (commands_run(count > 0 ? count - 1 : 0, (const char *const *)words + 1, &err))
        return 0;
    fprintf(stderr, "senbetsu: %s\n", err.text);
    return err.code == ERR_USAGE ? 2 : 1;
}
