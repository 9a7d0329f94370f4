/* A file is written beside the old one and renamed when it is whole, so that a full disk leaves the
 * old one as it was. A printer is reached through lp, the command that POSIX has for it, without a
 * shell; its own messages are kept off the screen. */
#include "senbetsu/host/output.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static bool write_all(int file, const struct text *text)
{
    for (size_t done = 0; done < text->length;) {
        ssize_t wrote = write(file, text->data + done, text->length - done);
        if (wrote < 0 && errno != EINTR)
            return false;
        done += wrote > 0 ? (size_t)wrote : 0;
    }
    return true;
}

bool output_standard(const struct text *text, struct err *err)
{
    return write_all(STDOUT_FILENO, text) ||
           err_set(err, ERR_SYSTEM, "Standard output cannot be written: %s.", strerror(errno));
}

bool output_is_terminal(void)
{
    return isatty(STDOUT_FILENO) == 1;
}

/* Closes `file` in every case; errno tells what failed first. */
static bool write_and_close(int file, const struct text *text, bool sync)
{
    bool written = write_all(file, text) && (!sync || fsync(file) == 0);
    int why = errno;
    bool closed = close(file) == 0;
    if (!written)
        errno = why;
    return written && closed;
}

/* Writes a file beside `path` and gives it the name only when it is whole. */
static bool replace_file(const char *path, mode_t mode, const struct text *text)
{
    struct text beside;
    text_init(&beside);
    text_addf(&beside, "%s.XXXXXX", path);
    int file = mkstemp(beside.data);
    bool done = file >= 0 && fchmod(file, mode) == 0;
    if (file >= 0)
        done = write_and_close(file, text, true) && done && rename(beside.data, path) == 0;
    if (file >= 0 && !done) {
        int why = errno;
        unlink(beside.data);
        errno = why;
    }
    text_done(&beside);
    return done;
}

/* A device, a pipe or a link can only be written into. */
static bool write_into(const char *path, const struct text *text)
{
    int file = open(path, O_WRONLY | O_TRUNC | O_CLOEXEC);
    return file >= 0 && write_and_close(file, text, false);
}

static mode_t usual_mode(void)
{
    mode_t mask = umask(0);
    umask(mask);
    return 0666 & ~mask;
}

bool output_file(const char *path, const struct text *text, struct err *err)
{
    struct stat found;
    bool old = lstat(path, &found) == 0;
    bool done = old && !S_ISREG(found.st_mode)
                    ? write_into(path, text)
                    : replace_file(path, old ? found.st_mode & 0777 : usual_mode(), text);
    return done || err_set(err, ERR_SYSTEM, "%s cannot be written: %s.", path, strerror(errno));
}

/* In the child: `lp` reads the text from the pipe and is not heard, for a screen may be up. A
 * screen holds signals back; an lp that hangs must be open to them. It ends with 127 where there is
 * no lp.
 */
static void become_lp(const char *printer, const int pipe_ends[2])
{
    sigset_t none;
    sigemptyset(&none);
    sigprocmask(SIG_SETMASK, &none, NULL);
    int silence = open("/dev/null", O_WRONLY);
    dup2(silence, STDOUT_FILENO);
    dup2(silence, STDERR_FILENO);
    dup2(pipe_ends[0], STDIN_FILENO);
    close(pipe_ends[0]);
    close(pipe_ends[1]);
    if (printer != NULL && printer[0] != '\0')
        execlp("lp", "lp", "-d", printer, (char *)NULL);
    else
        execlp("lp", "lp", (char *)NULL);
    _exit(127);
}

/* An lp that stops reading must not end the program. */
static bool feed(int file, const struct text *text)
{
    struct sigaction ignore = {.sa_handler = SIG_IGN}, before;
    sigaction(SIGPIPE, &ignore, &before);
    bool written = write_and_close(file, text, false);
    sigaction(SIGPIPE, &before, NULL);
    return written;
}

static int wait_for(pid_t child)
{
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR)
        continue;
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

bool output_printer(const char *printer, const struct text *text, struct err *err)
{
    int ends[2];
    if (pipe(ends) != 0)
        return err_set(err, ERR_SYSTEM, "The printer cannot be reached: %s.", strerror(errno));
    pid_t child = fork();
    if (child == 0)
        become_lp(printer, ends);
    close(ends[0]);
    bool fed = child > 0 ? feed(ends[1], text) : (close(ends[1]), false);
    int status = child > 0 ? wait_for(child) : -1;
    if (status == 127)
        return err_set(err, ERR_SYSTEM,
                       "There is no lp command on this machine; save to a file instead.");
    if (!fed || status != 0)
        return err_set(err, ERR_SYSTEM, "lp rejected the print job; lpstat -p -d shows why.");
    return true;
}
