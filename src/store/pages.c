/* Checksums of a ledger's pages (docs/decisions/pages.md). This is a VFS, the layer of SQLite that
 * reads and writes files, which lies over another one. A page that is written to a ledger gets a
 * checksum into the last bytes, and must have it when it is read: what somebody reads in a report
 * always comes from pages as they were written, and opening a ledger need not look at all of them.
 *
 * Pages on their way lie in the WAL. They have their checksum there as well, so that whoever brings
 * them into the ledger, be it a program that knows nothing of checksums, brings sound pages. SQLite
 * adds up each frame of the WAL before it is written, which must be done again with the checksum in
 * it: a recovery goes by that.
 *
 * A disk that fails once may answer the next time: what reads is tried again. What the disk refuses
 * to give is an error of the disk, never a damaged ledger. */
#include "pages.h"

#include "senbetsu/base/err.h"

#include <errno.h>
#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>
#include <xxhash.h>

/* The file format of SQLite 3: the database header, the WAL header and what stands before a page in
 * the WAL. */
enum {
    HEADER_SIZE = 100,
    HEADER_RESERVED = 20,
    WAL_MAGIC_SIZE = 4,
    WAL_SALT = 16,
    WAL_HEADER_SIZE = 32,
    FRAME_HEADER_SIZE = 24,
    FRAME_SUMMED = 8, /* bytes of its header that its checksum covers */
    FRAME_SALT = 8,   /* where in its header that of its WAL is */
    FRAME_SUMS = 16,  /* where in its header its checksum is */
    SALT_SIZE = 8,
    SUMS_SIZE = 8, /* a frame's checksum: two numbers */
    WAL_HEADER_SUMS = WAL_HEADER_SIZE - SUMS_SIZE,
    FRAME_SIZE = FRAME_HEADER_SIZE + PAGE_SIZE,
};

enum { ATTEMPTS = 3, PAUSE_MICROSECONDS = 2000 };

/* What SQLite sees as its file. That of the VFS beneath follows it in memory. */
struct paged_file {
    sqlite3_file base;
    struct paged_file *ledger; /* of a WAL: whose it is */
    int refused;               /* of a ledger: what the disk said to the last read it refused,
                                  its WAL's among them */
    bool sealed;               /* of a ledger: its pages have checksums */
    sqlite3_int64 waits;       /* of a WAL: the place of the page whose frame's header waits for it
                                  in `frame`; 0 = none */
    sqlite3_int64 anew;        /* of a WAL: the place of the frame that SQLite is adding up again */
    unsigned char frame[FRAME_SIZE];
};

static sqlite3_vfs *under;
static sqlite3_vfs over;

static struct paged_file *paged(sqlite3_file *file)
{
    return (struct paged_file *)file;
}

static sqlite3_file *beneath(struct paged_file *file)
{
    return (sqlite3_file *)(file + 1);
}

static bool may_pass(int code)
{
    return (code & 0xff) == SQLITE_IOERR && code != SQLITE_IOERR_SHORT_READ &&
           code != SQLITE_IOERR_NOMEM && code != SQLITE_IOERR_CORRUPTFS;
}

static int read_beneath(struct paged_file *file, void *to, int amount, sqlite3_int64 offset)
{
    int code = SQLITE_IOERR_READ;
    for (int attempt = 0; attempt < ATTEMPTS && may_pass(code); attempt++) {
        if (attempt > 0)
            under->xSleep(under, PAUSE_MICROSECONDS);
        code = beneath(file)->pMethods->xRead(beneath(file), to, amount, offset);
    }
    return code;
}

/* What the disk gave is not all that was asked for: does the file end there? A ledger may, before
 * it has its first page; within a page it may not. */
static int judge_short(struct paged_file *file, bool page, int amount, sqlite3_int64 offset)
{
    sqlite3_int64 size;
    int code = beneath(file)->pMethods->xFileSize(beneath(file), &size);
    if (code != SQLITE_OK)
        return code;
    if (size >= offset + amount)
        return SQLITE_IOERR_READ;
    return page ? SQLITE_CORRUPT : SQLITE_IOERR_SHORT_READ;
}

/* The fields of the header that tell caches and journals apart. Another program's SQLite changes
 * them in a copy that it makes page for page, and nothing that is read depends on them. */
static void leave_out_counters(unsigned char first[PAGE_SIZE])
{
    static const struct {
        int at, size;
    } counters[] = {
        {18, 2}, /* journal or WAL */
        {24, 4}, /* file change counter */
        {40, 4}, /* schema cookie */
        {92, 8}, /* change counter again, version of SQLite */
    };
    for (size_t i = 0; i < sizeof counters / sizeof *counters; i++)
        memset(first + counters[i].at, 0, (size_t)counters[i].size);
}

/* Of pages: where one page's content lies in another's place, that shows as well. */
static void page_sum(const void *page, sqlite3_int64 offset, unsigned char ret[PAGE_RESERVED])
{
    unsigned char first[PAGE_SIZE];
    XXH64_canonical_t canonical;
    XXH64_hash_t seed = (XXH64_hash_t)(offset / PAGE_SIZE + 1);
    if (offset == 0) {
        memcpy(first, page, sizeof first);
        leave_out_counters(first);
        page = first;
    }
    XXH64_canonicalFromHash(&canonical,
                            XXH3_64bits_withSeed(page, PAGE_SIZE - PAGE_RESERVED, seed));
    memcpy(ret, canonical.digest, PAGE_RESERVED);
}

static bool page_is_sound(const unsigned char *page, sqlite3_int64 offset)
{
    unsigned char sum[PAGE_RESERVED];
    page_sum(page, offset, sum);
    return memcmp(page + PAGE_SIZE - PAGE_RESERVED, sum, sizeof sum) == 0;
}

static bool is_page(const struct paged_file *file, int amount, sqlite3_int64 offset)
{
    return file->sealed && amount == PAGE_SIZE && offset % PAGE_SIZE == 0;
}

static void note_header(struct paged_file *file, const unsigned char *bytes, int amount,
                        sqlite3_int64 offset)
{
    if (offset == 0 && amount >= HEADER_SIZE && bytes[HEADER_RESERVED] == PAGE_RESERVED)
        file->sealed = true;
}

static int note_refusal(struct paged_file *file, int code)
{
    if (may_pass(code))
        file->ledger->refused = code;
    return code;
}

static int read_page(struct paged_file *file, void *to, int amount, sqlite3_int64 offset)
{
    for (int attempt = 1;; attempt++) {
        int code = read_beneath(file, to, amount, offset);
        if (code == SQLITE_OK)
            note_header(file, to, amount, offset);
        bool page = is_page(file, amount, offset);
        if (page && code == SQLITE_OK && !page_is_sound(to, offset))
            code = SQLITE_CORRUPT;
        if (code == SQLITE_IOERR_SHORT_READ)
            code = judge_short(file, page, amount, offset);
        if (!page && code != SQLITE_IOERR_READ)
            return code;
        if (code == SQLITE_OK || attempt == ATTEMPTS)
            return code;
    }
}

static int read_ledger(sqlite3_file *base, void *to, int amount, sqlite3_int64 offset)
{
    struct paged_file *file = paged(base);
    return note_refusal(file, read_page(file, to, amount, offset));
}

/* A journal that seems to end is played back no further: what the disk only did not give must not
 * count as that. */
static int read_journal(sqlite3_file *base, void *to, int amount, sqlite3_int64 offset)
{
    struct paged_file *file = paged(base);
    int code = read_beneath(file, to, amount, offset);
    return code == SQLITE_IOERR_SHORT_READ ? judge_short(file, false, amount, offset) : code;
}

/* Quotas end in another way than disks do, and mean the same. */
static int write_beneath(struct paged_file *file, const void *from, int amount,
                         sqlite3_int64 offset)
{
    errno = 0;
    int code = beneath(file)->pMethods->xWrite(beneath(file), from, amount, offset);
    return code == SQLITE_IOERR_WRITE && err_class(errno) == ERR_FULL ? SQLITE_FULL : code;
}

static int write_journal(sqlite3_file *base, const void *from, int amount, sqlite3_int64 offset)
{
    return write_beneath(paged(base), from, amount, offset);
}

static int write_ledger(sqlite3_file *base, const void *from, int amount, sqlite3_int64 offset)
{
    struct paged_file *file = paged(base);
    note_header(file, from, amount, offset);
    if (is_page(file, amount, offset)) {
        memcpy(file->frame, from, PAGE_SIZE - PAGE_RESERVED);
        page_sum(from, offset, file->frame + PAGE_SIZE - PAGE_RESERVED);
        from = file->frame;
    }
    return write_beneath(file, from, amount, offset);
}

static uint32_t big_endian(const unsigned char *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

static uint32_t little_endian(const unsigned char *bytes)
{
    return (uint32_t)bytes[3] << 24 | (uint32_t)bytes[2] << 16 | (uint32_t)bytes[1] << 8 | bytes[0];
}

static void put_big_endian(uint32_t number, unsigned char *bytes)
{
    for (int i = 0; i < 4; i++)
        bytes[i] = (unsigned char)(number >> (24 - 8 * i));
}

struct sums {
    uint32_t first, second;
};

/* The checksum of the WAL, in section 4.2 of the file format, goes on over `size` bytes. */
static struct sums add_up(struct sums sums, const unsigned char *bytes, int size, bool little)
{
    for (int at = 0; at < size; at += 8) {
        sums.first += (little ? little_endian : big_endian)(bytes + at) + sums.second;
        sums.second += (little ? little_endian : big_endian)(bytes + at + 4) + sums.first;
    }
    return sums;
}

/* A frame's checksum goes on from that of the frame before it, as it is in the file: another
 * program may have written that. The last bit of the WAL's first number says in which order the
 * numbers' bytes are taken. */
static int sum_frame(struct paged_file *file, unsigned char frame[FRAME_SIZE], sqlite3_int64 offset)
{
    unsigned char magic[WAL_MAGIC_SIZE], before[SUMS_SIZE];
    int code = read_beneath(file, magic, sizeof magic, 0);
    if (code == SQLITE_OK)
        code = read_beneath(file, before, sizeof before,
                            offset == WAL_HEADER_SIZE ? WAL_HEADER_SUMS
                                                      : offset - FRAME_SIZE + FRAME_SUMS);
    if (code != SQLITE_OK)
        return code;
    bool little = (magic[WAL_MAGIC_SIZE - 1] & 1) == 0;
    struct sums sums = {big_endian(before), big_endian(before + 4)};
    sums = add_up(sums, frame, FRAME_SUMMED, little);
    sums = add_up(sums, frame + FRAME_HEADER_SIZE, PAGE_SIZE, little);
    put_big_endian(sums.first, frame + FRAME_SUMS);
    put_big_endian(sums.second, frame + FRAME_SUMS + 4);
    return SQLITE_OK;
}

/* Where the page of this frame goes in the ledger; below 0 where it goes nowhere. */
static sqlite3_int64 goes_to(const unsigned char frame[FRAME_HEADER_SIZE])
{
    return ((sqlite3_int64)big_endian(frame) - 1) * PAGE_SIZE;
}

static void put_page(struct paged_file *file, const unsigned char *page)
{
    unsigned char *copy = file->frame + FRAME_HEADER_SIZE;
    memcpy(copy, page, PAGE_SIZE - PAGE_RESERVED);
    page_sum(page, goes_to(file->frame), copy + PAGE_SIZE - PAGE_RESERVED);
}

static int write_frame(struct paged_file *file, const unsigned char *page, sqlite3_int64 offset)
{
    put_page(file, page);
    int code = sum_frame(file, file->frame, offset);
    return code != SQLITE_OK ? code : write_beneath(file, file->frame, FRAME_SIZE, offset);
}

static bool begins_frame(sqlite3_int64 offset)
{
    return offset >= WAL_HEADER_SIZE && (offset - WAL_HEADER_SIZE) % FRAME_SIZE == 0;
}

static bool is_framed(int amount, sqlite3_int64 offset)
{
    return amount == PAGE_SIZE && begins_frame(offset - FRAME_HEADER_SIZE);
}

/* A page that a large transaction writes a second time takes the place of the first. Before it
 * commits, SQLite reads all frames from there on and writes their headers again, which then are
 * right as they come. */
static int write_again(struct paged_file *file, const unsigned char *page, sqlite3_int64 offset)
{
    int code = read_beneath(file, file->frame, FRAME_HEADER_SIZE, offset);
    if (code != SQLITE_OK)
        return code;
    put_page(file, page);
    return write_beneath(file, file->frame + FRAME_HEADER_SIZE, PAGE_SIZE,
                         offset + FRAME_HEADER_SIZE);
}

/* SQLite writes a frame's header and then its page. */
static int write_wal(sqlite3_file *base, const void *from, int amount, sqlite3_int64 offset)
{
    struct paged_file *file = paged(base);
    bool header = amount == FRAME_HEADER_SIZE && begins_frame(offset) && offset != file->anew;
    sqlite3_int64 waits = file->waits;
    file->waits = 0;
    file->anew = 0;
    if (file->ledger->sealed && header) {
        memcpy(file->frame, from, FRAME_HEADER_SIZE);
        file->waits = offset + FRAME_HEADER_SIZE;
        return SQLITE_OK;
    }
    if (file->ledger->sealed && is_framed(amount, offset))
        return (offset == waits ? write_frame : write_again)(file, from,
                                                             offset - FRAME_HEADER_SIZE);
    return write_beneath(file, from, amount, offset);
}

/* Is it one of this WAL, and not of what lay there before? Of a transaction that has written a page
 * a second time, all frames from then on have zeros until SQLite adds them up. */
static int is_of_this_wal(struct paged_file *file, const unsigned char frame[FRAME_HEADER_SIZE],
                          bool *ret)
{
    static const unsigned char none[SALT_SIZE];
    unsigned char salt[SALT_SIZE];
    int code = read_beneath(file, salt, sizeof salt, WAL_SALT);
    *ret = code == SQLITE_OK && (memcmp(frame + FRAME_SALT, salt, sizeof salt) == 0 ||
                                 memcmp(frame + FRAME_SALT, none, sizeof none) == 0);
    return code;
}

/* The page of a frame. */
static int read_frame(struct paged_file *file, void *to, sqlite3_int64 offset)
{
    unsigned char *frame = file->frame;
    for (int attempt = 1;; attempt++) {
        bool ours = false;
        int code = read_beneath(file, frame, FRAME_SIZE, offset);
        if (code == SQLITE_OK)
            code = is_of_this_wal(file, frame, &ours);
        if (code == SQLITE_IOERR_SHORT_READ)
            code = judge_short(file, true, FRAME_SIZE, offset);
        if (code == SQLITE_OK && ours && goes_to(frame) >= 0 &&
            page_is_sound(frame + FRAME_HEADER_SIZE, goes_to(frame))) {
            memcpy(to, frame + FRAME_HEADER_SIZE, PAGE_SIZE);
            return SQLITE_OK;
        }
        if (attempt == ATTEMPTS)
            return code == SQLITE_OK ? SQLITE_CORRUPT : code;
    }
}

static int read_wal(sqlite3_file *base, void *to, int amount, sqlite3_int64 offset)
{
    struct paged_file *file = paged(base);
    file->anew = amount == FRAME_SIZE && begins_frame(offset) ? offset : 0;
    return note_refusal(file, file->ledger->sealed && is_framed(amount, offset)
                                  ? read_frame(file, to, offset - FRAME_HEADER_SIZE)
                                  : read_beneath(file, to, amount, offset));
}

static int close_file(sqlite3_file *base)
{
    return beneath(paged(base))->pMethods->xClose(beneath(paged(base)));
}

static int truncate_file(sqlite3_file *base, sqlite3_int64 size)
{
    return beneath(paged(base))->pMethods->xTruncate(beneath(paged(base)), size);
}

static int sync_file(sqlite3_file *base, int flags)
{
    return beneath(paged(base))->pMethods->xSync(beneath(paged(base)), flags);
}

static int file_size(sqlite3_file *base, sqlite3_int64 *ret_size)
{
    return beneath(paged(base))->pMethods->xFileSize(beneath(paged(base)), ret_size);
}

static int lock_file(sqlite3_file *base, int level)
{
    return beneath(paged(base))->pMethods->xLock(beneath(paged(base)), level);
}

static int unlock_file(sqlite3_file *base, int level)
{
    return beneath(paged(base))->pMethods->xUnlock(beneath(paged(base)), level);
}

static int check_reserved_lock(sqlite3_file *base, int *ret_reserved)
{
    return beneath(paged(base))->pMethods->xCheckReservedLock(beneath(paged(base)), ret_reserved);
}

static int file_control(sqlite3_file *base, int opcode, void *argument)
{
    if (opcode == PAGES_SEAL) {
        paged(base)->sealed = true;
        return SQLITE_OK;
    }
    if (opcode == PAGES_REFUSED) {
        memcpy(argument, &paged(base)->refused, sizeof paged(base)->refused);
        paged(base)->refused = SQLITE_OK;
        return SQLITE_OK;
    }
    return beneath(paged(base))->pMethods->xFileControl(beneath(paged(base)), opcode, argument);
}

static int sector_size(sqlite3_file *base)
{
    return beneath(paged(base))->pMethods->xSectorSize(beneath(paged(base)));
}

/* Without this promise, which the VFS of every Unix gives, SQLite would write pages in two parts.
 */
static int characteristics(sqlite3_file *base)
{
    return beneath(paged(base))->pMethods->xDeviceCharacteristics(beneath(paged(base))) |
           SQLITE_IOCAP_POWERSAFE_OVERWRITE;
}

static int share_map(sqlite3_file *base, int region, int size, int extend, void volatile **ret)
{
    errno = 0;
    int code =
        beneath(paged(base))->pMethods->xShmMap(beneath(paged(base)), region, size, extend, ret);
    return (code & 0xff) == SQLITE_IOERR && err_class(errno) == ERR_FULL ? SQLITE_FULL : code;
}

static int share_lock(sqlite3_file *base, int offset, int count, int flags)
{
    return beneath(paged(base))->pMethods->xShmLock(beneath(paged(base)), offset, count, flags);
}

static void share_barrier(sqlite3_file *base)
{
    beneath(paged(base))->pMethods->xShmBarrier(beneath(paged(base)));
}

static int share_unmap(sqlite3_file *base, int delete)
{
    return beneath(paged(base))->pMethods->xShmUnmap(beneath(paged(base)), delete);
}

/* Of version 2: memory is shared for the WAL, and no page is read past these functions by mapping
 * the file. Version 1 does not share any, where the VFS beneath cannot. */
#define METHODS(version, read, write)                                                              \
    {                                                                                              \
        (version), close_file, read, write, truncate_file, sync_file, file_size, lock_file,        \
            unlock_file, check_reserved_lock, file_control, sector_size, characteristics,          \
            share_map, share_lock, share_barrier, share_unmap, NULL, NULL                          \
    }
static const sqlite3_io_methods of_ledger = METHODS(2, read_ledger, write_ledger);
static const sqlite3_io_methods of_lone_ledger = METHODS(1, read_ledger, write_ledger);
static const sqlite3_io_methods of_wal = METHODS(2, read_wal, write_wal);
static const sqlite3_io_methods of_journal = METHODS(1, read_journal, write_journal);

static bool shares_memory(struct paged_file *file)
{
    const sqlite3_io_methods *methods = beneath(file)->pMethods;
    return methods->iVersion >= 2 && methods->xShmMap != NULL;
}

static int open_beneath(const char *name, sqlite3_file *file, int flags, int *ret_flags)
{
    int code = SQLITE_IOERR;
    for (int attempt = 0; attempt < ATTEMPTS && may_pass(code); attempt++) {
        if (attempt > 0)
            under->xSleep(under, PAUSE_MICROSECONDS);
        code = under->xOpen(under, name, file, flags, ret_flags);
        if (code != SQLITE_OK && file->pMethods != NULL)
            file->pMethods->xClose(file);
        if (code != SQLITE_OK)
            file->pMethods = NULL;
    }
    return code;
}

/* Temporary files are left to the VFS beneath. */
static int open_file(sqlite3_vfs *vfs, const char *name, sqlite3_file *base, int flags,
                     int *ret_flags)
{
    (void)vfs;
    bool is_wal = (flags & SQLITE_OPEN_WAL) != 0;
    bool is_journal = (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0;
    if (name == NULL || (!is_wal && !is_journal && (flags & SQLITE_OPEN_MAIN_DB) == 0))
        return open_beneath(name, base, flags, ret_flags);
    struct paged_file *file = paged(base);
    memset(file, 0, sizeof *file);
    int code = open_beneath(name, beneath(file), flags, ret_flags);
    if (code != SQLITE_OK)
        return code;
    file->ledger = is_wal ? paged(sqlite3_database_file_object(name)) : file;
    base->pMethods = is_journal            ? &of_journal
                     : is_wal              ? &of_wal
                     : shares_memory(file) ? &of_ledger
                                           : &of_lone_ledger;
    return SQLITE_OK;
}

/* What is not changed is called as it is: such functions find what is theirs by pAppData. */
int pages_register(void)
{
    if (under != NULL)
        return SQLITE_OK;
    sqlite3_vfs *found = sqlite3_vfs_find(NULL);
    if (found == NULL)
        return SQLITE_ERROR;
    over = *found;
    over.pNext = NULL;
    over.zName = "senbetsu";
    over.szOsFile = (int)sizeof(struct paged_file) + found->szOsFile;
    over.xOpen = open_file;
    under = found;
    return sqlite3_vfs_register(&over, 1);
}
