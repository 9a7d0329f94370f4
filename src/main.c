/* The program: runs one command line and turns its outcome into what a shell expects: 0 = done, 2 =
 * the command line is wrong, 1 = anything else. Libraries neither print errors nor exit, so every
 * failure but running out of memory (base/alloc.h) ends here, after whoever noticed it has put
 * files, ledger and terminal in order. */
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
