/* Version 2: shared memory is passed through, since a WAL needs it. */
#include "vfs.h"

#include "disk.h"
#include "fault.h"

#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

struct file {
    sqlite3_file base;
    const char
        *path;  /* SQLite's own copy, which lives as long as the file; NULL = a temporary one */
    int number; /* in the log, -1 = not watched */
    bool new_journal; /* its first sync brings its name to the disk, too */
    sqlite3_file *real;
};

static sqlite3_vfs *plain;
static bool shares_memory = true;

void vfs_share_memory(bool can)
{
    shares_memory = can;
}

static struct file *file_of(sqlite3_file *base)
{
    return (struct file *)base;
}

static enum fault_kind strikes(const struct file *file, enum call call)
{
    return disk_has(file->path) ? fault_strikes(call, file->path) : FAULT_NONE;
}

static int fails(const struct file *file, enum call call, int code)
{
    enum fault_kind kind = strikes(file, call);
    if (kind == FAULT_NONE || kind == FAULT_VISITOR)
        return SQLITE_OK;
    return kind == FAULT_BUSY ? SQLITE_BUSY : code;
}

static int close_file(sqlite3_file *base)
{
    struct file *file = file_of(base);
    return file->real->pMethods->xClose(file->real);
}

static int read_file(sqlite3_file *base, void *bytes, int size, sqlite3_int64 at)
{
    struct file *file = file_of(base);
    enum fault_kind kind = strikes(file, CALL_READ);
    if (kind == FAULT_READ)
        return SQLITE_IOERR_READ;
    int code = file->real->pMethods->xRead(file->real, bytes, size, at);
    if (kind != FAULT_SHORT_READ || code != SQLITE_OK)
        return code;
    memset((char *)bytes + size / 2, 0, (size_t)(size - size / 2));
    return SQLITE_IOERR_SHORT_READ;
}

/* The part of a failing write that was done. */
static int write_part(struct file *file, const char *bytes, int from, int to, sqlite3_int64 at)
{
    int code = from < to
                   ? file->real->pMethods->xWrite(file->real, bytes + from, to - from, at + from)
                   : SQLITE_OK;
    if (code == SQLITE_OK && from < to)
        disk_wrote(file->number, at + from, bytes + from, (size_t)(to - from));
    return code;
}

/* Every second sector. */
static int write_torn(struct file *file, const char *bytes, int size, sqlite3_int64 at, int sector)
{
    for (int from = 0; from < size; from += 2 * sector)
        write_part(file, bytes, from, from + sector < size ? from + sector : size, at);
    return SQLITE_IOERR_WRITE;
}

static int write_file(sqlite3_file *base, const void *bytes, int size, sqlite3_int64 at)
{
    struct file *file = file_of(base);
    enum fault_kind kind = strikes(file, CALL_WRITE);
    if (kind == FAULT_FULL)
        return SQLITE_FULL;
    if (kind == FAULT_WRITE)
        return SQLITE_IOERR_WRITE;
    if (kind == FAULT_HALF_WRITE) {
        write_part(file, bytes, 0, size / 2, at);
        return SQLITE_IOERR_WRITE;
    }
    if (kind == FAULT_TORN_512 || kind == FAULT_TORN_4096)
        return write_torn(file, bytes, size, at, kind == FAULT_TORN_512 ? 512 : 4096);
    return write_part(file, bytes, 0, size, at);
}

static int truncate_file(sqlite3_file *base, sqlite3_int64 size)
{
    struct file *file = file_of(base);
    int code = fails(file, CALL_TRUNCATE, SQLITE_IOERR_TRUNCATE);
    if (code == SQLITE_OK)
        code = file->real->pMethods->xTruncate(file->real, size);
    if (code == SQLITE_OK)
        disk_truncated(file->number, size);
    return code;
}

/* What was not synced is dropped, as it is when its pages leave the memory after a failed sync. */
static void lose(struct file *file)
{
    enum { PIECE = 65536 }; /* as large as a page may be: SQLite's own writes are no larger */
    unsigned char *bytes;
    size_t size;
    disk_lost(file->number, &bytes, &size);
    if (bytes == NULL)
        return;
    int code = file->real->pMethods->xTruncate(file->real, (sqlite3_int64)size);
    for (size_t at = 0; code == SQLITE_OK && at < size; at += PIECE) {
        size_t piece = size - at < PIECE ? size - at : PIECE;
        code = file->real->pMethods->xWrite(file->real, bytes + at, (int)piece, (sqlite3_int64)at);
    }
    if (code != SQLITE_OK)
        abort();
    free(bytes);
}

static void sync_now(struct file *file)
{
    disk_synced(file->number);
    if (file->new_journal && disk_has(file->path)) {
        char folder[DISK_PATH * 2];
        const char *slash = strrchr(file->path, '/');
        sqlite3_snprintf(sizeof folder, folder, "%.*s", (int)(slash - file->path), file->path);
        disk_folder_synced(folder);
        file->new_journal = false;
    }
}

static int sync_file(sqlite3_file *base, int flags)
{
    struct file *file = file_of(base);
    enum fault_kind kind = strikes(file, CALL_SYNC);
    (void)flags;
    if (kind == FAULT_SYNC_LOST)
        lose(file);
    else
        sync_now(file);
    return kind == FAULT_SYNC_LOST || kind == FAULT_SYNC_KEPT ? SQLITE_IOERR_FSYNC : SQLITE_OK;
}

static int file_size(sqlite3_file *base, sqlite3_int64 *ret)
{
    struct file *file = file_of(base);
    int code = fails(file, CALL_SIZE, SQLITE_IOERR_FSTAT);
    return code == SQLITE_OK ? file->real->pMethods->xFileSize(file->real, ret) : code;
}

static int lock(sqlite3_file *base, int level)
{
    struct file *file = file_of(base);
    int code = fails(file, CALL_LOCK, SQLITE_IOERR_LOCK);
    return code == SQLITE_OK ? file->real->pMethods->xLock(file->real, level) : code;
}

static int unlock(sqlite3_file *base, int level)
{
    struct file *file = file_of(base);
    return file->real->pMethods->xUnlock(file->real, level);
}

static int check_reserved(sqlite3_file *base, int *ret)
{
    struct file *file = file_of(base);
    return file->real->pMethods->xCheckReservedLock(file->real, ret);
}

static int control(sqlite3_file *base, int operation, void *argument)
{
    struct file *file = file_of(base);
    /* It may make the file larger without writing to it. */
    if (operation == SQLITE_FCNTL_SIZE_HINT)
        return SQLITE_OK;
    return file->real->pMethods->xFileControl(file->real, operation, argument);
}

static int sector_size(sqlite3_file *base)
{
    struct file *file = file_of(base);
    return file->real->pMethods->xSectorSize(file->real);
}

static int characteristics(sqlite3_file *base)
{
    struct file *file = file_of(base);
    return file->real->pMethods->xDeviceCharacteristics(file->real);
}

static int map(sqlite3_file *base, int page, int size, int extend, void volatile **ret)
{
    struct file *file = file_of(base);
    int code = fails(file, CALL_MAP, SQLITE_IOERR_SHMMAP);
    return code == SQLITE_OK ? file->real->pMethods->xShmMap(file->real, page, size, extend, ret)
                             : code;
}

/* Giving a lock up cannot fail in a way that a program could do something about. */
static int shm_lock(sqlite3_file *base, int offset, int count, int flags)
{
    struct file *file = file_of(base);
    int code = (flags & SQLITE_SHM_LOCK) != 0 ? fails(file, CALL_SHM_LOCK, SQLITE_IOERR_SHMLOCK)
                                              : SQLITE_OK;
    return code == SQLITE_OK ? file->real->pMethods->xShmLock(file->real, offset, count, flags)
                             : code;
}

static void barrier(sqlite3_file *base)
{
    struct file *file = file_of(base);
    file->real->pMethods->xShmBarrier(file->real);
}

static int unmap(sqlite3_file *base, int delete)
{
    struct file *file = file_of(base);
    return file->real->pMethods->xShmUnmap(file->real, delete);
}

static const sqlite3_io_methods methods = {
    .iVersion = 2,
    .xClose = close_file,
    .xRead = read_file,
    .xWrite = write_file,
    .xTruncate = truncate_file,
    .xSync = sync_file,
    .xFileSize = file_size,
    .xLock = lock,
    .xUnlock = unlock,
    .xCheckReservedLock = check_reserved,
    .xFileControl = control,
    .xSectorSize = sector_size,
    .xDeviceCharacteristics = characteristics,
    .xShmMap = map,
    .xShmLock = shm_lock,
    .xShmBarrier = barrier,
    .xShmUnmap = unmap,
};

/* The same without shared memory is what version 1 was. */
static sqlite3_io_methods methods_without_memory;

static int open_file(sqlite3_vfs *vfs, const char *path, sqlite3_file *base, int flags,
                     int *ret_flags)
{
    enum { JOURNALS = SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL };
    struct file *file = file_of(base);
    (void)vfs;
    memset(file, 0, sizeof *file);
    file->path = path;
    file->real = (sqlite3_file *)(file + 1);
    int code = fails(file, CALL_OPEN, SQLITE_CANTOPEN);
    if (code == SQLITE_OK)
        code = plain->xOpen(plain, path, file->real, flags, ret_flags);
    if (file->real->pMethods == NULL || code != SQLITE_OK)
        return code;
    file->number = disk_file(path);
    if (file->number < 0 && disk_has(path))
        file->number = disk_created(path);
    file->new_journal = (flags & JOURNALS) != 0 && (flags & SQLITE_OPEN_CREATE) != 0;
    methods_without_memory = methods;
    methods_without_memory.iVersion = 1;
    file->base.pMethods = shares_memory ? &methods : &methods_without_memory;
    return SQLITE_OK;
}

static int delete_file(sqlite3_vfs *vfs, const char *path, int sync_folder)
{
    (void)vfs;
    if (disk_has(path) && fault_strikes(CALL_DELETE, path) == FAULT_DELETE)
        return SQLITE_IOERR_DELETE;
    int code = plain->xDelete(plain, path, 0);
    if (code != SQLITE_OK)
        return code;
    disk_deleted(path);
    if (sync_folder && disk_has(path)) {
        char folder[DISK_PATH * 2];
        sqlite3_snprintf(sizeof folder, folder, "%.*s", (int)(strrchr(path, '/') - path), path);
        disk_folder_synced(folder);
    }
    return SQLITE_OK;
}

static int access_file(sqlite3_vfs *vfs, const char *path, int flags, int *ret)
{
    (void)vfs;
    if (disk_has(path) && fault_strikes(CALL_ACCESS, path) == FAULT_ACCESS)
        return SQLITE_IOERR_ACCESS;
    return plain->xAccess(plain, path, flags, ret);
}

static int full_path(sqlite3_vfs *vfs, const char *path, int size, char *ret)
{
    (void)vfs;
    return plain->xFullPathname(plain, path, size, ret);
}

static int randomness(sqlite3_vfs *vfs, int size, char *ret)
{
    (void)vfs;
    memset(ret, 7, (size_t)size); /* every run is the same */
    return size;
}

/* Who waits for a lock waits no real time. */
static int sleep_us(sqlite3_vfs *vfs, int microseconds)
{
    (void)vfs;
    return microseconds;
}

static int current_time(sqlite3_vfs *vfs, double *ret)
{
    (void)vfs;
    return plain->xCurrentTime(plain, ret);
}

static int current_time_ms(sqlite3_vfs *vfs, sqlite3_int64 *ret)
{
    (void)vfs;
    return plain->xCurrentTimeInt64(plain, ret);
}

static int last_error(sqlite3_vfs *vfs, int size, char *ret)
{
    (void)vfs;
    return plain->xGetLastError(plain, size, ret);
}

void vfs_register(void)
{
    static sqlite3_vfs vfs;
    plain = sqlite3_vfs_find("unix");
    if (plain == NULL)
        abort();
    vfs = (sqlite3_vfs){
        .iVersion = 2,
        .szOsFile = (int)sizeof(struct file) + plain->szOsFile,
        .mxPathname = plain->mxPathname,
        .zName = "faulty",
        .xOpen = open_file,
        .xDelete = delete_file,
        .xAccess = access_file,
        .xFullPathname = full_path,
        .xRandomness = randomness,
        .xSleep = sleep_us,
        .xCurrentTime = current_time,
        .xGetLastError = last_error,
        .xCurrentTimeInt64 = current_time_ms,
    };
    if (sqlite3_vfs_register(&vfs, 1) != SQLITE_OK)
        abort();
}
