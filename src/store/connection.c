/* The ledger as a file: seen from outside, opened, copied, and the sentences for what SQLite says
 * of it. A file is looked at before SQLite touches it, since SQLite would make, lock or recover
 * what is not a ledger at all, and takes a file that was cut off for a whole one. */
#include "connection.h"

#include "pages.h"
#include "private.h"
#include "senbetsu/base/text.h"

#include <assert.h>
#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct sentence {
    int code; /* an extended code, or a primary one that stands for all its kind */
    enum err_code kind;
    const char *format; /* takes the path */
};

#define DAMAGED "The ledger is damaged; restore your latest backup in place of %s."

/* Extended codes come before the primary code they belong to. The cause comes first, then what to
 * do, the path last, so that a screen of 80 columns shows what matters. */
static const struct sentence sentences[] = {
    {SQLITE_BUSY, ERR_BUSY, "Another program is using the ledger; try again in a moment: %s."},
    {SQLITE_LOCKED, ERR_BUSY, "Another program is using the ledger; try again in a moment: %s."},
    {SQLITE_PROTOCOL, ERR_BUSY, "Another program is using the ledger; try again in a moment: %s."},
    {SQLITE_CORRUPT, ERR_DAMAGE, DAMAGED},
    {SQLITE_NOTADB, ERR_DAMAGE, DAMAGED},
    {SQLITE_READONLY, ERR_READONLY, "The ledger is read-only; allow writing to it first: %s."},
    {SQLITE_PERM, ERR_PERMISSION, "You may not use the ledger; ask for permission: %s."},
    {SQLITE_AUTH, ERR_PERMISSION, "You may not use the ledger; ask for permission: %s."},
    {SQLITE_CANTOPEN, ERR_SYSTEM,
     "The ledger cannot be opened; see whether its folder can be used: %s."},
    {SQLITE_FULL, ERR_FULL, "The disk is full; free some space and try again: %s."},
    {SQLITE_IOERR_NOMEM, ERR_SYSTEM, "There is not enough memory for the ledger %s."},
    {SQLITE_IOERR_READ, ERR_IO, "The disk reports read errors; check it, then try again: %s."},
    {SQLITE_IOERR_SHORT_READ, ERR_IO,
     "The disk reports read errors; check it, then try again: %s."},
    {SQLITE_IOERR_WRITE, ERR_IO, "The disk reports write errors; check it, then try again: %s."},
    {SQLITE_IOERR, ERR_IO, "The disk reports errors; check it, then try again: %s."},
    {SQLITE_NOMEM, ERR_SYSTEM, "There is not enough memory for the ledger %s."},
    {SQLITE_TOOBIG, ERR_INPUT, "A text is too long for the ledger %s."},
    {SQLITE_CONSTRAINT_UNIQUE, ERR_LEDGER, "There is such a record already in the ledger %s."},
    {SQLITE_CONSTRAINT_PRIMARYKEY, ERR_LEDGER, "There is such a record already in the ledger %s."},
    {SQLITE_CONSTRAINT_FOREIGNKEY, ERR_LEDGER,
     "The record that this one belongs to is missing from the ledger %s."},
    {SQLITE_CONSTRAINT_TRIGGER, ERR_LEDGER,
     "Other records still need this one; it cannot be deleted from the ledger %s."},
};

static const struct sentence *sentence_for(int code)
{
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences; i++)
        if (sentences[i].code == code || sentences[i].code == (code & 0xff))
            return &sentences[i];
    return NULL;
}

bool sqlite_error(const char *path, int code, const char *detail, struct err *err)
{
    const struct sentence *sentence = sentence_for(code);
    if (sentence == NULL)
        return err_set(err, ERR_LEDGER, "The ledger rejects this (%s): %s.", detail, path);

    char text[ERR_TEXT_SIZE];
    sqlite3_snprintf(sizeof text, text, sentence->format, path);
    return err_set(err, sentence->kind, "%s", text);
}

bool file_error(const char *path, int cause, const char *done, struct err *err)
{
    static const struct {
        enum err_code kind;
        int code;
    } known[] = {{ERR_FULL, SQLITE_FULL}, {ERR_IO, SQLITE_IOERR}, {ERR_READONLY, SQLITE_READONLY}};
    enum err_code kind = err_class(cause);
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (known[i].kind == kind)
            return sqlite_error(path, known[i].code, "", err);
    return err_set(err, kind, "The ledger cannot be %s (%s): %s.", done, strerror(cause), path);
}

static bool not_a_ledger(const char *path, struct err *err)
{
    return err_set(err, ERR_LEDGER, "This is not a ledger: %s.", path);
}

/* The file format of SQLite 3, section 1.3: the first hundred bytes. */
enum {
    HEADER_SIZE = 100,
    HEADER_PAGE_SIZE = 16, /* two bytes */
    HEADER_RESERVED = 20,
    HEADER_PAGE_COUNT = 28,
    HEADER_WRITE_VERSION = 18, /* 1 or 2; SQLite takes any other for a file it may not write */
    HEADER_READ_VERSION = 19,
    HEADER_USER_VERSION = 60,
    HEADER_APPLICATION_ID = 68,
};
static const char magic[16] = "SQLite format 3";

static uint32_t big_endian(const unsigned char *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

bool file_check_newer(const char *path, int version, int newest, struct err *err)
{
    return err_set(err, ERR_LEDGER,
                   "The ledger has layout %d, this program reads layouts up to %d; use a newer "
                   "senbetsu for %s.",
                   version, newest, path);
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
        fine = errno == ENOENT || errno == ENOTDIR
                   ? err_set(err, ERR_SYSTEM, "The folder of the ledger is not there: %s.", path)
                   : err_set(err, err_class(errno),
                             "The folder of the ledger cannot be written to (%s): %s.",
                             strerror(errno), path);
    text_done(&folder);
    return fine;
}

static bool check_header(const char *path, const unsigned char header[HEADER_SIZE], int newest,
                         struct err *err)
{
    if (memcmp(header, magic, sizeof magic) != 0 ||
        big_endian(header + HEADER_APPLICATION_ID) != LEDGER_APPLICATION_ID)
        return not_a_ledger(path, err);
    uint32_t version = big_endian(header + HEADER_USER_VERSION);
    if (version > (uint32_t)newest)
        return file_check_newer(path, (int)(version & INT32_MAX), newest, err);
    bool versions_known = header[HEADER_WRITE_VERSION] >= 1 && header[HEADER_WRITE_VERSION] <= 2 &&
                          header[HEADER_READ_VERSION] >= 1 && header[HEADER_READ_VERSION] <= 2;
    return versions_known || sqlite_error(path, SQLITE_CORRUPT, "", err);
}

/* Every page of ours has the same size and room for its checksum; only what an unfinished session
 * left beside the file may still have to make it whole. */
static bool check_whole(const char *path, const unsigned char header[HEADER_SIZE], off_t size,
                        struct err *err)
{
    int page = header[HEADER_PAGE_SIZE] << 8 | header[HEADER_PAGE_SIZE + 1];
    bool ours = page == PAGE_SIZE && header[HEADER_RESERVED] == PAGE_RESERVED;
    bool whole =
        size % PAGE_SIZE == 0 && size / PAGE_SIZE >= (off_t)big_endian(header + HEADER_PAGE_COUNT);
    return (ours &&
            (whole || file_has_beside(path, "-wal") || file_has_beside(path, "-journal"))) ||
           sqlite_error(path, SQLITE_CORRUPT, "", err);
}

/* A disk that fails once may answer the next time. Returns the bytes read, or -1 with errno set. */
static ssize_t read_start(const char *path, unsigned char *ret, size_t size, struct stat *ret_about)
{
    enum { ATTEMPTS = 3 };
    ssize_t got = -1;
    for (int attempt = 0; got < 0 && attempt < ATTEMPTS; attempt++) {
        int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
        if (file < 0 && errno != EIO && errno != EINTR)
            return -1;
        if (file < 0)
            continue;
        if (fstat(file, ret_about) == 0)
            got = read(file, ret, size);
        int cause = errno;
        close(file);
        errno = cause;
    }
    return got;
}

/* Closing a descriptor gives up every lock this process has on the file: a ledger that is already
 * open here must not be checked. */
bool file_check_header(const char *path, int newest, struct err *err)
{
    unsigned char header[HEADER_SIZE];
    struct stat about = {.st_size = 0};
    ssize_t size = read_start(path, header, sizeof header, &about);
    if (size < 0)
        return file_error(path, errno, "read", err);
    if (size < HEADER_SIZE)
        return not_a_ledger(path, err);
    return check_header(path, header, newest, err) && check_whole(path, header, about.st_size, err);
}

bool file_check(const char *path, int newest, enum file_kind *ret, struct err *err)
{
    struct stat about;
    if (stat(path, &about) != 0) {
        if (errno != ENOENT && errno != ENOTDIR)
            return file_error(path, errno, "reached", err);
        if (!check_folder(path, err))
            return false;
        *ret = FILE_ABSENT;
        return true;
    }
    if (S_ISDIR(about.st_mode))
        return err_set(err, ERR_LEDGER, "%s is a folder, not a ledger.", path);
    if (!S_ISREG(about.st_mode))
        return not_a_ledger(path, err);
    if (about.st_size > 0 && !file_check_header(path, newest, err))
        return false;
    bool shut = access(path, W_OK) != 0 || !check_folder(path, NULL);
    if (shut && about.st_size == 0)
        return file_refuse_shut(path, err);
    *ret = shut ? FILE_SHUT : about.st_size > 0 ? FILE_LEDGER : FILE_EMPTY;
    return true;
}

bool file_refuse_shut(const char *path, struct err *err)
{
    if (access(path, W_OK) != 0)
        return sqlite_error(path, SQLITE_READONLY, "", err);
    return check_folder(path, err) && sqlite_error(path, SQLITE_READONLY, "", err);
}

static bool fails(sqlite3 *db, const char *path, int code, struct err *err)
{
    return sqlite_error(path, code, sqlite3_errmsg(db), err);
}

bool connection_run(sqlite3 *db, const char *path, const char *sql, struct err *err)
{
    int code = sqlite3_exec(db, sql, NULL, NULL, NULL);
    return code == SQLITE_OK || fails(db, path, code, err);
}

/* The first column of the first row, as text ("" where there is none). */
static bool first_value(sqlite3 *db, const char *path, const char *sql, char *buffer, size_t size,
                        struct err *err)
{
    sqlite3_stmt *statement;
    int code = sqlite3_prepare_v2(db, sql, -1, &statement, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(statement);
    const unsigned char *value = code == SQLITE_ROW ? sqlite3_column_text(statement, 0) : NULL;
    text_copy(buffer, size, value == NULL ? "" : (const char *)value);
    bool fine = code == SQLITE_ROW || code == SQLITE_DONE || fails(db, path, code, err);
    sqlite3_finalize(statement);
    return fine;
}

bool connection_number(sqlite3 *db, const char *path, const char *sql, int *ret, struct err *err)
{
    char value[32];
    if (!first_value(db, path, sql, value, sizeof value, err))
        return false;
    *ret = (int)strtol(value, NULL, 10);
    return true;
}

int connection_refused(sqlite3 *db)
{
    int code = SQLITE_OK;
    sqlite3_file_control(db, "main", PAGES_REFUSED, &code);
    return code;
}

bool connection_check(sqlite3 *db, const char *path, const char *pragma, struct err *err)
{
    char value[256];
    struct text sql;
    text_init(&sql);
    text_addf(&sql, "PRAGMA %s(1)", pragma);
    connection_refused(db);
    bool ran = first_value(db, path, sql.data, value, sizeof value, err);
    text_done(&sql);
    if (!ran || strcmp(value, "ok") == 0)
        return ran;
    int refused = connection_refused(db);
    return sqlite_error(path, refused != SQLITE_OK ? refused : SQLITE_CORRUPT, value, err);
}

static void harden(sqlite3 *db)
{
    static const struct {
        int option;
        int value;
    } settings[] = {
        {SQLITE_DBCONFIG_DEFENSIVE, 1},      {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
        {SQLITE_DBCONFIG_DQS_DDL, 0},        {SQLITE_DBCONFIG_DQS_DML, 0},
        {SQLITE_DBCONFIG_ENABLE_FKEY, 1},    {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
        {SQLITE_DBCONFIG_ENABLE_TRIGGER, 1},
    };
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++)
        sqlite3_db_config(db, settings[i].option, settings[i].value, NULL);
    sqlite3_limit(db, SQLITE_LIMIT_ATTACHED, 0);
    connection_wait_for_others(db);
}

/* What a file is like is decided before its first page is written. What is deleted is overwritten,
 * so that every page of a ledger was written at some time and has its checksum. */
static bool set_up(sqlite3 *db, const char *path, bool shut, struct err *err)
{
    int reserved = PAGE_RESERVED;
    char sql[80];
    harden(db);
    sqlite3_file_control(db, "main", PAGES_SEAL, NULL);
    if (shut)
        return connection_run(db, path, "PRAGMA cell_size_check = ON", err);
    sqlite3_file_control(db, "main", SQLITE_FCNTL_RESERVE_BYTES, &reserved);
    snprintf(sql, sizeof sql, "PRAGMA page_size = %d; PRAGMA secure_delete = ON", PAGE_SIZE);
    /* SQLite opens a file that it may not write without a word. */
    if (sqlite3_db_readonly(db, "main") == 1)
        return sqlite_error(path, SQLITE_READONLY, "", err);
    return connection_run(db, path, sql, err) &&
           connection_run(db, path, "PRAGMA cell_size_check = ON", err);
}

static bool open_as(const char *name, int flags, const char *path, sqlite3 **ret, struct err *err)
{
    sqlite3 *db = NULL;
    int code = pages_register();
    if (code == SQLITE_OK)
        code =
            sqlite3_open_v2(name, &db, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, NULL);
    if (code != SQLITE_OK) {
        sqlite_error(path, code, sqlite3_errstr(code), err);
        sqlite3_close(db);
        return false;
    }
    if (!set_up(db, path, (flags & SQLITE_OPEN_READONLY) != 0, err)) {
        connection_close(db, path, true);
        return false;
    }
    *ret = db;
    return true;
}

/* A name that begins like a URI is a file's name all the same. */
static bool open_by_name(const char *path, int flags, sqlite3 **ret, struct err *err)
{
    struct text name;
    text_init(&name);
    text_addf(&name, "%s%s", path[0] == '/' ? "" : "./", path);
    bool opened = open_as(name.data, flags, path, ret, err);
    text_done(&name);
    return opened;
}

bool connection_open(const char *path, bool create, sqlite3 **ret, struct err *err)
{
    return open_by_name(path, SQLITE_OPEN_READWRITE | (create ? SQLITE_OPEN_CREATE : 0), ret, err);
}

/* RFC 3986: whatever could mean something in a URI is written as %2F. */
static void add_escaped(struct text *uri, const char *path)
{
    for (const char *at = path; *at != '\0'; at++)
        text_addf(uri, isalnum((unsigned char)*at) || *at == '/' ? "%c" : "%%%02X",
                  (unsigned char)*at);
}

bool connection_open_shut(const char *path, sqlite3 **ret, bool *ret_as_it_lies, struct err *err)
{
    struct text uri;
    bool opened;
    bool quiet = !file_has_beside(path, "-wal") && !file_has_beside(path, "-journal");
    if (!quiet) {
        *ret_as_it_lies = false;
        return open_by_name(path, SQLITE_OPEN_READONLY, ret, err);
    }
    text_init(&uri);
    text_add(&uri, path[0] == '/' ? "file:" : "file:./");
    add_escaped(&uri, path);
    text_add(&uri, "?immutable=1");
    opened = open_as(uri.data, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, path, ret, err);
    text_done(&uri);
    if (opened)
        *ret_as_it_lies = true;
    return opened;
}

void connection_close(sqlite3 *db, const char *path, bool aborted)
{
    /* Content of an unfinished session beside the file belongs to whoever comes next. */
    if (aborted && file_has_beside(path, "-wal"))
        sqlite3_db_config(db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    int code = sqlite3_close(db);
    assert(code == SQLITE_OK);
    (void)code;
}

/* Nobody else may use a new file while it goes over to the WAL, and SQLite does not wait for that
 * by itself. Where it does, both would wait, one within the other: only this does. */
static bool choose_wal(sqlite3 *db, const char *path, char mode[16], struct err *err)
{
    struct err why = {0};
    bool chosen = false;
    sqlite3_busy_handler(db, NULL, NULL);
    for (int tries = 0; !chosen; tries++) {
        chosen = first_value(db, path, "PRAGMA journal_mode = WAL", mode, 16, &why);
        if (!chosen && (why.code != ERR_BUSY || !connection_wait(tries)))
            break;
    }
    connection_wait_for_others(db);
    return chosen || err_set(err, why.code, "%s", why.text);
}

bool connection_journal(sqlite3 *db, const char *path, struct err *err)
{
    char mode[16];
    if (!choose_wal(db, path, mode, err))
        return false;
    /* Some file systems cannot share memory; the older journal is slower and just as safe where its
     * folder is synced after it is deleted, too: a journal that comes back after a power cut would
     * take the last commit back. That is EXTRA; in WAL it is the same as FULL. */
    if (strcmp(mode, "wal") != 0 && !connection_run(db, path, "PRAGMA journal_mode = DELETE", err))
        return false;
    return connection_run(db, path, "PRAGMA synchronous = EXTRA", err);
}

bool connection_in_wal(sqlite3 *db, const char *path, bool *ret, struct err *err)
{
    char mode[16];
    if (!first_value(db, path, "PRAGMA journal_mode", mode, sizeof mode, err))
        return false;
    *ret = strcmp(mode, "wal") == 0;
    return true;
}

bool connection_checkpoint(sqlite3 *db, const char *path, struct err *err)
{
    int code = sqlite3_wal_checkpoint_v2(db, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL, NULL);
    return code == SQLITE_OK || fails(db, path, code, err);
}
