/* Where a finished text goes: standard output, a file, a printer.
 *
 * A file is written under another name in its folder, brought to the disk, and gets its own name
 * when it is whole, so that a full disk leaves what was there as it was. What was there is kept
 * unless its replacement was asked for; a ledger is kept in any case, since a name mistyped by one
 * letter must not cost a season. The rule is held here, where every output goes through: by what
 * the file is and not by what it is called, for a link or a copy goes by any name.
 *
 * A printer is reached through lp, the command that POSIX has for it, without a shell; its own
 * messages are kept off the screen. */
#include "senbetsu/host/output.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/beside.h"
#include "senbetsu/base/new_file.h"

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

void output_note(const char *sentence)
{
    fprintf(stderr, "senbetsu: %s\n", sentence);
}

void output_progress(const char *what, int64_t done, int64_t of)
{
    static bool shown;
    if (isatty(STDERR_FILENO) != 1 || (what == NULL && !shown))
        return;
    shown = what != NULL;
    if (shown)
        fprintf(stderr, "\r%s … %d %%", what, (int)(done * 100 / of));
    else
        fprintf(stderr, "\r%40s\r", "");
    fflush(stderr);
}

bool output_is_terminal(void)
{
    return isatty(STDOUT_FILENO) == 1;
}

/* Closes `file` in every case; errno tells what failed first. */
static bool write_and_close(int file, const struct text *text)
{
    bool written = write_all(file, text);
    int why = errno;
    bool closed = close(file) == 0;
    if (!written)
        errno = why;
    return written && closed;
}

static bool same_file(const char *path, const char *other)
{
    struct stat a, b;
    return stat(path, &a) == 0 && stat(other, &b) == 0 && a.st_dev == b.st_dev &&
           a.st_ino == b.st_ino;
}

/* Every SQLite file begins with these 16 bytes: https://www.sqlite.org/fileformat.html, 1.3.1. */
static bool begins_like_ledger(const char *path)
{
    static const char header[16] = "SQLite format 3";
    char begin[sizeof header] = "";
    struct stat found;
    if (stat(path, &found) != 0 || !S_ISREG(found.st_mode))
        return false;
    int file = open(path, O_RDONLY | O_CLOEXEC);
    bool like = file >= 0 && read(file, begin, sizeof begin) == (ssize_t)sizeof begin &&
                memcmp(begin, header, sizeof header) == 0;
    if (file >= 0)
        close(file);
    return like;
}

/* `open` is the ledger that is open, or NULL. It is told by its inode and never looked into:
 * closing a second descriptor of it would drop the locks that SQLite holds on it. */
static bool is_ledger(const char *path, const char *open)
{
    return (open != NULL && same_file(path, open)) || begins_like_ledger(path);
}

/* What lies beside a ledger and belongs to it: named after it, and of the open one also under
 * another name. */
static bool is_companion(const char *path, const char *open)
{
    static const enum beside kept_open[] = {BESIDE_WAL, BESIDE_SHM, BESIDE_JOURNAL,
                                            BESIDE_ACKNOWLEDGED};
    struct text name;
    enum beside kind;
    size_t length;
    bool companion = false;
    text_init(&name);
    for (size_t i = 0; open != NULL && i < sizeof kept_open / sizeof *kept_open; i++) {
        text_clear(&name);
        beside_add(&name, open, kept_open[i]);
        companion = companion || same_file(path, name.data);
    }
    if (beside_split(path, &length, &kind)) {
        text_clear(&name);
        text_add_bytes(&name, path, length);
        companion = companion || is_ledger(name.data, open);
    }
    text_done(&name);
    return companion;
}

/* The file that a name leads to. */
struct target {
    char *path; /* links followed, as far as they lead to something */
    bool exists;
    mode_t mode; /* of the one that is there, else what a new one gets */
};

static mode_t usual_mode(void)
{
    mode_t mask = umask(0);
    umask(mask);
    return 0666 & ~mask;
}

static struct target find_target(const char *path)
{
    struct stat found;
    struct target target = {.path = realpath(path, NULL), .mode = usual_mode()};
    if (target.path != NULL && stat(target.path, &found) == 0)
        target.mode = found.st_mode & 0777;
    if (target.path == NULL)
        target.path = alloc_text(path);
    target.exists = lstat(target.path, &found) == 0;
    return target;
}

/* May `target` be written? `path` is what it was called. */
static bool may_write(const struct target *target, const char *path, const char *ledger,
                      bool replace, struct err *err)
{
    struct stat found;
    bool there = stat(target->path, &found) == 0;
    if (there && S_ISDIR(found.st_mode))
        return err_set(err, ERR_INPUT, "%s is a folder; name a file in it.", path);
    if (there && !S_ISREG(found.st_mode))
        return err_set(err, ERR_INPUT, "%s is no file; choose another name.", path);
    if (is_ledger(target->path, ledger) || is_companion(target->path, ledger))
        return err_set(err, ERR_INPUT,
                       "%s belongs to a ledger, which nothing replaces; choose another name.",
                       path);
    if (target->exists && !replace)
        return new_file_taken(path, err);
    if (there && access(target->path, R_OK) != 0)
        return err_set(err, ERR_SYSTEM,
                       "%s cannot be read and might be a ledger; choose another name.", path);
    return true;
}

static bool write_target(const struct target *target, const struct text *text, struct err *err)
{
    struct new_file file;
    bool done = new_file_begin(&file, target->path, target->mode, err) &&
                (write_all(file.file, text) || new_file_fails(target->path, errno, err)) &&
                new_file_place(&file, target->exists, err);
    new_file_done(&file);
    return done;
}

/* A device or a pipe holds nothing that could be lost, and can only be written into. */
static bool is_stream(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && (S_ISCHR(found.st_mode) || S_ISFIFO(found.st_mode));
}

static bool write_into(const char *path, const struct text *text)
{
    int file = open(path, O_WRONLY | O_CLOEXEC);
    return file >= 0 && write_and_close(file, text);
}

bool output_file(const char *path, const char *ledger, bool replace, const struct text *text,
                 struct err *err)
{
    if (is_stream(path))
        return write_into(path, text) || new_file_fails(path, errno, err);
    struct target target = find_target(path);
    bool done = may_write(&target, path, ledger, replace, err) && write_target(&target, text, err);
    free(target.path);
    return done;
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
    bool written = write_and_close(file, text);
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
