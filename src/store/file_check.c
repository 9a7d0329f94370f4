#include "file_check.h"

#include "private.h"
#include "senbetsu/base/text.h"
#include "sqlite_error.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The file format of SQLite 3, section 1.3: the first hundred bytes. */
enum {
    HEADER_SIZE = 100,
    HEADER_PAGE_SIZE = 16, /* two bytes; 1 stands for LARGEST_PAGE */
    HEADER_USER_VERSION = 60,
    HEADER_APPLICATION_ID = 68,
    LARGEST_PAGE = 65536,
};
static const char magic[16] = "SQLite format 3";

static uint32_t big_endian(const unsigned char *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

bool file_check_newer(const char *path, int version, int newest, struct err *err)
{
    return err_set(err, ERR_LEDGER,
                   "The ledger %s has layout %d, and this program reads layouts up to %d; use a "
                   "newer senbetsu.",
                   path, version, newest);
}

bool file_has_beside(const char *path, const char *suffix)
{
    struct text name;
    struct stat about;
    text_init(&name);
    text_addf(&name, "%s%s", path, suffix);
    bool has = stat(name.data, &about) == 0 && about.st_size > 0;
    text_done(&name);
    return has;
}

/* The journal and the shared memory are made beside the ledger. */
static bool check_folder(const char *path, struct err *err)
{
    struct text folder;
    text_init(&folder);
    const char *slash = strrchr(path, '/');
    if (slash == NULL)
        text_add(&folder, ".");
    else
        text_add_bytes(&folder, path, slash == path ? 1 : (size_t)(slash - path));

    bool fine = true;
    if (access(folder.data, W_OK | X_OK) != 0)
        fine = err_set(
            err, ERR_SYSTEM, "The ledger %s cannot be used: its folder %s %s.", path, folder.data,
            errno == ENOENT || errno == ENOTDIR ? "is not there" : "cannot be written to");
    text_done(&folder);
    return fine;
}

static bool check_header(const char *path, const unsigned char header[HEADER_SIZE], int newest,
                         struct err *err)
{
    if (memcmp(header, magic, sizeof magic) != 0 ||
        big_endian(header + HEADER_APPLICATION_ID) != LEDGER_APPLICATION_ID)
        return err_set(err, ERR_LEDGER, "%s is not a ledger.", path);
    uint32_t version = big_endian(header + HEADER_USER_VERSION);
    if (version > (uint32_t)newest)
        return file_check_newer(path, (int)(version & INT32_MAX), newest, err);
    return true;
}

/* SQLite itself takes a last page that was cut for one that ends in zeros. An unfinished session
 * leaves what is needed to make the file whole beside it. */
static bool check_whole(const char *path, const unsigned char header[HEADER_SIZE], off_t size,
                        struct err *err)
{
    int page = header[HEADER_PAGE_SIZE] << 8 | header[HEADER_PAGE_SIZE + 1];
    bool whole = size % (page == 1 ? LARGEST_PAGE : page < 512 ? 512 : page) == 0;
    return whole || file_has_beside(path, "-wal") || file_has_beside(path, "-journal") ||
           sqlite_error(path, SQLITE_CORRUPT, "", err);
}

/* Closing a descriptor gives up every lock this process has on the file: a ledger that is already
 * open here must not be checked. */
bool file_check_header(const char *path, int newest, struct err *err)
{
    unsigned char header[HEADER_SIZE];
    struct stat about = {.st_size = 0};
    int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    ssize_t size = file < 0 ? -1 : read(file, header, sizeof header);
    if (size >= 0 && fstat(file, &about) != 0)
        size = -1;
    int cause = errno;
    if (file >= 0)
        close(file);
    if (size < 0)
        return err_set(err, ERR_SYSTEM, "The ledger %s cannot be read: %s.", path, strerror(cause));
    if (size < HEADER_SIZE)
        return err_set(err, ERR_LEDGER, "%s is not a ledger.", path);
    return check_header(path, header, newest, err) && check_whole(path, header, about.st_size, err);
}

bool file_check(const char *path, int newest, enum file_kind *ret, struct err *err)
{
    struct stat about;
    if (stat(path, &about) != 0) {
        if (errno != ENOENT && errno != ENOTDIR)
            return err_set(err, ERR_SYSTEM, "The ledger %s cannot be reached: %s.", path,
                           strerror(errno));
        if (!check_folder(path, err))
            return false;
        *ret = FILE_ABSENT;
        return true;
    }
    if (S_ISDIR(about.st_mode))
        return err_set(err, ERR_LEDGER, "%s is a folder, not a ledger.", path);
    if (!S_ISREG(about.st_mode))
        return err_set(err, ERR_LEDGER, "%s is not a ledger.", path);
    if (about.st_size > 0 && !file_check_header(path, newest, err))
        return false;
    if (access(path, W_OK) != 0)
        return err_set(err, ERR_LEDGER, "The ledger %s is read-only; allow writing to it first.",
                       path);
    if (!check_folder(path, err))
        return false;
    *ret = about.st_size > 0 ? FILE_LEDGER : FILE_EMPTY;
    return true;
}
