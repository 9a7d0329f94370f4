/* The program's command lines, one after another in one process: a sanitised program takes longer
 * to start and to look for leaks than most commands take, and valgrind translates the program anew
 * at each start.
 *
 *   commands OUT ERR    the numbers of two open files, which take what a command prints
 *
 * Standard input has a request a command: how many fields follow, then these, each ended by a NUL:
 * the variables of its environment (NAME=VALUE), "--", and its words. Standard output has its exit
 * status, a line. What leaks is told at the end of them all, or wherever a checker stops them. */
/* clearenv is beyond POSIX. */
#define _DEFAULT_SOURCE
#include "senbetsu/cli/commands.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { FIELDS = 512 };

static struct {
    FILE *requests, *answers;
    int files[2], own_errors;
} line;

static _Noreturn void give_up(const char *why)
{
    dprintf(line.own_errors, "commands: %s\n", why);
    exit(3);
}

static void begin_line(char **arguments)
{
    int nothing = open("/dev/null", O_RDONLY);
    line.own_errors = dup(STDERR_FILENO);
    line.requests = fdopen(dup(STDIN_FILENO), "r");
    line.answers = fdopen(dup(STDOUT_FILENO), "w");
    for (int i = 0; i < 2; i++)
        line.files[i] = (int)strtol(arguments[i], NULL, 10);
    if (line.requests == NULL || line.answers == NULL || dup2(nothing, STDIN_FILENO) < 0)
        give_up("standard input and output are not open");
    close(nothing);
}

/* What a command prints goes into the two files, from their beginning. */
static void turn_outputs(bool to_files)
{
    static const int outputs[] = {STDOUT_FILENO, STDERR_FILENO};
    for (int i = 0; i < 2; i++) {
        if (to_files &&
            (ftruncate(line.files[i], 0) != 0 || lseek(line.files[i], 0, SEEK_SET) != 0))
            give_up("the files of what is printed cannot be emptied");
        dup2(to_files ? line.files[i] : line.own_errors, outputs[i]);
    }
}

static int run(int count, const char *const *words)
{
    struct err err = {0};
    turn_outputs(true);
    bool done = commands_run(count, words, &err);
    if (!done)
        fprintf(stderr, "senbetsu: %s\n", err.text);
    fflush(stdout);
    turn_outputs(false);
    return done ? 0 : err.code == ERR_USAGE ? 2 : 1;
}

static int answer(int count, char **fields)
{
    int from = 0;
    clearenv();
    for (; from < count && strcmp(fields[from], "--") != 0; from++)
        putenv(fields[from]);
    int status = run(count - from - 1, (const char *const *)fields + from + 1);
    clearenv();
    return status;
}

/* A field of the next request; NULL at the end. */
static char *read_field(void)
{
    char *field = NULL;
    size_t size = 0;
    if (getdelim(&field, &size, '\0', line.requests) >= 0)
        return field;
    free(field);
    return NULL;
}

int main(int count, char **arguments)
{
    if (count != 3)
        return 3;
    begin_line(arguments + 1);
    turn_outputs(false);
    for (char *number; (number = read_field()) != NULL; free(number)) {
        int fields = (int)strtol(number, NULL, 10);
        char *field[FIELDS];
        if (fields < 1 || fields > FIELDS)
            give_up("this is no request");
        for (int i = 0; i < fields; i++) {
            if ((field[i] = read_field()) == NULL)
                give_up("a request is not whole");
        }
        fprintf(line.answers, "%d\n", answer(fields, field));
        fflush(line.answers);
        for (int i = 0; i < fields; i++)
            free(field[i]);
    }
    fclose(line.requests);
    fclose(line.answers);
    return 0;
}
