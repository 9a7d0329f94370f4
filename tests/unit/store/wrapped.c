#include "wrapped.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

static enum wrapped_mode mode;
static int chosen;
static int count;

void wrapped_set(enum wrapped_mode new_mode, int at)
{
    mode = new_mode;
    chosen = at;
    count = 0;
}

int wrapped_count(void)
{
    return count;
}

/* Is this call made? */
static bool goes_on(void)
{
    int now = count++;
    bool ends = mode == WRAPPED_KILL || mode == WRAPPED_NO_LINKS;
    if (ends && now == chosen)
        _exit(KILLED);
    bool fails =
        (mode == WRAPPED_FAIL && now == chosen) || (mode == WRAPPED_FAIL_ON && now >= chosen);
    errno = fails ? EIO : errno;
    return !fails;
}

/* The names are the linker's. */
int __real_rename(const char *from, const char *to);
int __real_link(const char *from, const char *to);
int __real_unlink(const char *path);
int __real_fsync(int file);
int __real_fchmod(int file, mode_t mode);
ssize_t __real_write(int file, const void *bytes, size_t size);

int __wrap_rename(const char *from, const char *to);
int __wrap_rename(const char *from, const char *to)
{
    return goes_on() ? __real_rename(from, to) : -1;
}

int __wrap_link(const char *from, const char *to);
int __wrap_link(const char *from, const char *to)
{
    if (!goes_on())
        return -1;
    if (mode != WRAPPED_NO_LINKS || access(from, F_OK) != 0)
        return __real_link(from, to);
    errno = EPERM;
    return -1;
}

int __wrap_unlink(const char *path);
int __wrap_unlink(const char *path)
{
    return goes_on() ? __real_unlink(path) : -1;
}

int __wrap_fsync(int file);
int __wrap_fsync(int file)
{
    return goes_on() ? __real_fsync(file) : -1;
}

int __wrap_fchmod(int file, mode_t rights);
int __wrap_fchmod(int file, mode_t rights)
{
    return goes_on() ? __real_fchmod(file, rights) : -1;
}

ssize_t __wrap_write(int file, const void *bytes, size_t size);
ssize_t __wrap_write(int file, const void *bytes, size_t size)
{
    return goes_on() ? __real_write(file, bytes, size) : -1;
}
