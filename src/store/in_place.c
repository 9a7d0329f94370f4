/* A ledger that is moved, deleted or replaced while it is open goes on taking records where nobody
 * looks for them. So before each commit its path must still lead to the file that is open; where it
 * does not, nothing more is recorded and the sentence says where the work is. */
#include "connection.h"
#include "private.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool is_file(const struct ledger *ledger, const struct stat *about)
{
    return (int64_t)about->st_dev == ledger->device && (int64_t)about->st_ino == ledger->inode;
}

bool in_place_begin(struct ledger *ledger, struct err *err)
{
    struct stat about;
    int moved = 0;
    if (stat(ledger->path, &about) != 0)
        return file_error(ledger->path, errno, "reached", err);
    ledger->device = (int64_t)about.st_dev;
    ledger->inode = (int64_t)about.st_ino;
    /* Since it was opened? */
    sqlite3_file_control(ledger->db, "main", SQLITE_FCNTL_HAS_MOVED, &moved);
    return !moved ||
           err_set(err, ERR_BUSY, "The ledger was replaced just now; try again in a moment: %s.",
                   ledger->path);
}

/* A path that cannot be looked at for a moment says nothing. */
bool in_place(const struct ledger *ledger)
{
    struct stat about;
    if (ledger->inode == 0)
        return true;
    if (stat(ledger->path, &about) == 0)
        return is_file(ledger, &about);
    return errno != ENOENT && errno != ENOTDIR;
}

/* Where the file lies now, as far as the system says so: Linux keeps the name of each open file,
 * " (deleted)" behind it where that is gone. `*ret_deleted`: no name leads to it any more. */
static bool find_name(const struct ledger *ledger, char *ret_name, size_t size, bool *ret_deleted)
{
    bool found = false;
    DIR *files = opendir("/proc/self/fd");
    if (files == NULL)
        return false;
    for (struct dirent *entry; !found && (entry = readdir(files)) != NULL;) {
        struct stat about;
        int number = (int)strtol(entry->d_name, NULL, 10);
        if (entry->d_name[0] == '.' || fstat(number, &about) != 0 || !is_file(ledger, &about))
            continue;
        ssize_t length = readlinkat(dirfd(files), entry->d_name, ret_name, size - 1);
        found = length > 0;
        ret_name[found ? length : 0] = '\0';
        *ret_deleted = about.st_nlink == 0;
    }
    closedir(files);
    return found;
}

bool in_place_deleted(const struct ledger *ledger)
{
    char name[4096];
    bool deleted = false;
    return find_name(ledger, name, sizeof name, &deleted) && deleted;
}

bool in_place_fail(const struct ledger *ledger, struct err *err)
{
    char name[4096] = "";
    bool deleted = false;
    bool found = find_name(ledger, name, sizeof name, &deleted);
    if (found && deleted && ledger->rescued != NULL)
        return err_set(err, ERR_GONE,
                       "The ledger was deleted while it was open; all up to now is kept in: %s.",
                       ledger->rescued);
    if (found && deleted)
        return err_set(err, ERR_GONE, "The ledger was deleted while it was open: %s.",
                       ledger->path);
    return err_set(err, ERR_GONE,
                   found ? "The ledger was moved while it was open; your work is in: %s."
                         : "The ledger was moved while it was open; your work is where it is now, "
                           "not in: %s.",
                   found ? name : ledger->path);
}
