/* SQLite lets its system calls be replaced one by one (sqlite3_vfs.xSetSystemCall). */
#include "support/failing_disk.h"

#include <errno.h>
#include <sqlite3.h>
#include <sys/types.h>
#include <unistd.h>

static int failure;

static ssize_t write_at(int file, const void *bytes, size_t size, off_t at)
{
    if (failure == 0)
        return pwrite(file, bytes, size, at);
    errno = failure;
    return -1;
}

void disk_fails_with(int cause)
{
    static const char *const calls[] = {"pwrite", "pwrite64"};
    sqlite3_vfs *vfs = sqlite3_vfs_find("unix");
    failure = cause;
    for (size_t i = 0; i < sizeof calls / sizeof calls[0]; i++)
        vfs->xSetSystemCall(vfs, calls[i], cause == 0 ? NULL : (sqlite3_syscall_ptr)write_at);
}
