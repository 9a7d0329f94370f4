/* What our own code asks of the operating system, and SQLite's file systems do not see: each call
 * is counted, made to fail where fault.h says so, and written into the log of disk.h. The linker
 * puts these in the place of the real ones (-Wl,--wrap); files outside the watched folder pass
 * through.
 */
#include "disk.h"
#include "fault.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

int __real_open64(const char *path, int flags, ...);
int __real_mkstemp64(char *path);
ssize_t __real_read(int file, void *bytes, size_t size);
ssize_t __real_write(int file, const void *bytes, size_t size);
int __real_close(int file);
int __real_ftruncate64(int file, off_t size);
int __real_rename(const char *from, const char *to);
int __real_link(const char *from, const char *to);
int __real_unlink(const char *path);

int __wrap_open64(const char *path, int flags, ...);
int __wrap_mkstemp64(char *path);
ssize_t __wrap_read(int file, void *bytes, size_t size);
ssize_t __wrap_write(int file, const void *bytes, size_t size);
int __wrap_fsync(int file);
int __wrap_fdatasync(int file);
int __wrap_close(int file);
int __wrap_ftruncate64(int file, off_t size);
int __wrap_rename(const char *from, const char *to);
int __wrap_link(const char *from, const char *to);
int __wrap_unlink(const char *path);
int __wrap_nanosleep(const struct timespec *wanted, struct timespec *left);

/* The descriptors of watched files and folders. */
enum { DESCRIPTORS = 256 };
static struct descriptor {
    bool known, folder;
    int number;
    char path[2 * DISK_PATH];
} descriptors[DESCRIPTORS];

static struct descriptor *known(int file)
{
    return file >= 0 && file < DESCRIPTORS && descriptors[file].known ? &descriptors[file] : NULL;
}

/* 0, or the errno to fail with. */
static int fails(enum call call, const char *path)
{
    return fault_errno(fault_strikes(call, path));
}

static bool is_folder(const char *path)
{
    struct stat about;
    return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static bool watched(const char *path)
{
    size_t length = strlen(path);
    char folder[2 * DISK_PATH];
    snprintf(folder, sizeof folder, "%s%sx", path,
             length > 0 && path[length - 1] == '/' ? "" : "/");
    return disk_has(path) || disk_has(folder);
}

static int opened(int file, const char *path, int flags)
{
    if (file < 0 || file >= DESCRIPTORS)
        return file;
    struct descriptor *descriptor = &descriptors[file];
    *descriptor = (struct descriptor){.known = true, .folder = is_folder(path), .number = -1};
    snprintf(descriptor->path, sizeof descriptor->path, "%s", path);
    if (descriptor->folder)
        return file;
    descriptor->number = disk_file(path);
    if (descriptor->number < 0)
        descriptor->number = disk_created(path);
    else if ((flags & O_TRUNC) != 0)
        disk_truncated(descriptor->number, 0);
    return file;
}

int __wrap_open64(const char *path, int flags, ...)
{
    mode_t mode = 0;
    if ((flags & O_CREAT) != 0) {
        va_list list;
        va_start(list, flags);
        mode = (mode_t)va_arg(list, int);
        va_end(list);
    }
    if (!watched(path))
        return __real_open64(path, flags, mode);
    int error = fails((flags & O_CREAT) != 0 ? CALL_OS_MAKE : CALL_OS_OPEN, path);
    if (error != 0) {
        errno = error;
        return -1;
    }
    return opened(__real_open64(path, flags, mode), path, flags);
}

int __wrap_mkstemp64(char *path)
{
    if (!watched(path))
        return __real_mkstemp64(path);
    int error = fails(CALL_OS_MAKE, path);
    if (error != 0) {
        errno = error;
        return -1;
    }
    return opened(__real_mkstemp64(path), path, 0);
}

ssize_t __wrap_read(int file, void *bytes, size_t size)
{
    const struct descriptor *descriptor = known(file);
    int error = descriptor == NULL ? 0 : fails(CALL_OS_READ, descriptor->path);
    if (error == 0)
        return __real_read(file, bytes, size);
    errno = error;
    return -1;
}

ssize_t __wrap_write(int file, const void *bytes, size_t size)
{
    const struct descriptor *descriptor = known(file);
    if (descriptor == NULL)
        return __real_write(file, bytes, size);
    enum fault_kind kind = fault_strikes(CALL_OS_WRITE, descriptor->path);
    if (fault_errno(kind) != 0) {
        errno = fault_errno(kind);
        return -1;
    }
    off_t at = lseek(file, 0, SEEK_CUR);
    ssize_t written =
        __real_write(file, bytes, kind == FAULT_OS_HALF_WRITE && size > 1 ? size / 2 : size);
    if (written > 0)
        disk_wrote(descriptor->number, at, bytes, (size_t)written);
    return written;
}

/* A file of ours that cannot be synced has lost what was not on the disk. */
static void lose(const struct descriptor *descriptor)
{
    unsigned char *bytes;
    size_t size;
    disk_lost(descriptor->number, &bytes, &size);
    int file = bytes == NULL ? -1 : __real_open64(descriptor->path, O_WRONLY);
    if (file >= 0) {
        if (__real_ftruncate64(file, (off_t)size) != 0 ||
            __real_write(file, bytes, size) != (ssize_t)size)
            abort();
        __real_close(file);
    }
    free(bytes);
}

/* Nothing is really synced. */
int __wrap_fsync(int file)
{
    const struct descriptor *descriptor = known(file);
    if (descriptor == NULL)
        return 0;
    int error = fails(CALL_OS_SYNC, descriptor->path);
    if (error != 0) {
        if (!descriptor->folder && error == EIO)
            lose(descriptor);
        errno = error;
        return -1;
    }
    if (descriptor->folder)
        disk_folder_synced(descriptor->path);
    else
        disk_synced(descriptor->number);
    return 0;
}

int __wrap_fdatasync(int file)
{
    return __wrap_fsync(file);
}

int __wrap_close(int file)
{
    if (known(file) != NULL)
        descriptors[file].known = false;
    return __real_close(file);
}

int __wrap_ftruncate64(int file, off_t size)
{
    const struct descriptor *descriptor = known(file);
    int error = descriptor == NULL ? 0 : fails(CALL_OS_TRUNCATE, descriptor->path);
    if (error != 0) {
        errno = error;
        return -1;
    }
    int code = __real_ftruncate64(file, size);
    if (code == 0 && descriptor != NULL)
        disk_truncated(descriptor->number, size);
    return code;
}

static int name(const char *from, const char *to, int (*real)(const char *, const char *),
                void (*log)(const char *, const char *))
{
    int error = watched(to) ? fails(CALL_OS_NAME, to) : 0;
    if (error != 0) {
        errno = error;
        return -1;
    }
    int code = real(from, to);
    if (code == 0)
        log(from, to);
    return code;
}

int __wrap_rename(const char *from, const char *to)
{
    return name(from, to, __real_rename, disk_renamed);
}

int __wrap_link(const char *from, const char *to)
{
    return name(from, to, __real_link, disk_linked);
}

int __wrap_unlink(const char *path)
{
    int error = watched(path) ? fails(CALL_OS_DELETE, path) : 0;
    if (error != 0) {
        errno = error;
        return -1;
    }
    int code = __real_unlink(path);
    if (code == 0)
        disk_deleted(path);
    return code;
}

/* Who waits for a lock waits no real time. */
int __wrap_nanosleep(const struct timespec *wanted, struct timespec *left)
{
    (void)wanted;
    (void)left;
    return 0;
}
