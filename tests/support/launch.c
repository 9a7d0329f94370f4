/* clearenv is beyond POSIX. */
#define _DEFAULT_SOURCE
#include "support/launch.h"
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { WORDS = 64 };

const char *launch_under(void)
{
    const char *under = getenv("SENBETSU_UNDER");
    return under == NULL ? "" : under;
}

static void set_environment(const char *const *added)
{
    static const char *const kept[] = {"PATH",         "HOME",          "TMPDIR",
                                       "ASAN_OPTIONS", "UBSAN_OPTIONS", "LSAN_OPTIONS"};
    enum { KEPT = sizeof kept / sizeof *kept };
    const char *values[KEPT];
    for (size_t i = 0; i < KEPT; i++)
        values[i] = getenv(kept[i]);
    clearenv();
    for (size_t i = 0; i < KEPT; i++) {
        if (values[i] != NULL)
            setenv(kept[i], values[i], 1);
    }
    /* Not xterm: the emulator does not know its order to repeat a character. */
    setenv("TERM", "screen-256color", 1);
    setenv("LC_ALL", "C.UTF-8", 1);
    setenv("TZ", "UTC", 1);
    setenv("SENBETSU_BOUNCE", "0", 1); /* a test types faster than any hand */
    for (; added != NULL && *added != NULL; added++)
        putenv((char *)(uintptr_t)*added);
}

/* Whoever started the tests may have had signals ignored (nohup), and that is inherited. */
static void heed_signals(void)
{
    static const int numbers[] = {SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGPIPE};
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        signal(numbers[i], SIG_DFL);
}

_Noreturn void launch(const char *const *command, const char *const *environment)
{
    char under[4096];
    snprintf(under, sizeof under, "%s", launch_under());
    char *words[WORDS] = {NULL};
    size_t count = 0;
    for (char *word = strtok(under, " "); word != NULL; word = strtok(NULL, " "))
        words[count++] = word;
    for (; *command != NULL; command++)
        words[count++] = (char *)(uintptr_t)*command;
    set_environment(environment);
    heed_signals();
    execvp(words[0], words);
    perror(words[0]);
    _exit(127);
}

int launch_and_read(const char *const *command, const char *const *environment, struct text *out)
{
    int line[2];
    if (pipe(line) != 0)
        return -1;
    pid_t pid = fork();
    if (pid == 0) {
        int nothing = open("/dev/null", O_RDONLY);
        dup2(nothing, STDIN_FILENO);
        dup2(line[1], STDOUT_FILENO);
        dup2(line[1], STDERR_FILENO);
        close(line[0]);
        close(line[1]);
        unsetenv("SENBETSU_UNDER");
        launch(command, environment);
    }
    close(line[1]);
    char bytes[4096];
    for (ssize_t length; (length = read(line[0], bytes, sizeof bytes)) > 0;)
        text_add_bytes(out, bytes, (size_t)length);
    close(line[0]);
    int status;
    if (pid < 0 || waitpid(pid, &status, 0) != pid)
        return -1;
    return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}
