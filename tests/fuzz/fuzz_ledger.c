/* A ledger that somebody has changed from outside. The bytes are changes of a sound one, since any
 * bytes at all would be refused at the first page: bytes anywhere in the file, whose pages then get
 * the checksums that they ought to have, and values in any row and column, past all that the schema
 * would refuse. Every command that reads is answered, with what is there or with a sentence.
 *
 * The first byte says which commands are run, for all of them take long. */
#include "base_ledger.h"
#include "senbetsu/cli/commands.h"

#include <fcntl.h>
#include <sqlite3.h>

enum { PAGE = 4096, CHANGES_MOST = 16, GROUPS = 6 };

static struct text changed;
static char **tables;
static int table_count;

static int note_table(void *context, int count, char **values, char **names)
{
    (void)context;
    (void)count;
    (void)names;
    tables = realloc(tables, (size_t)(table_count + 1) * sizeof *tables);
    FUZZ_HOLDS(tables != NULL);
    tables[table_count++] = strdup(values[0]);
    return 0;
}

/* Lays the bytes down as a ledger is written, so that each page gets its checksum where pages have
 * one. */
static void lay_down(const struct text *bytes)
{
    sqlite3_vfs *vfs = sqlite3_vfs_find(NULL);
    sqlite3_file *file = calloc(1, (size_t)vfs->szOsFile);
    int flags = SQLITE_OPEN_MAIN_DB | SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE;
    static char name[160];
    /* A name as SQLite hands it over: more of the same kind may follow its end. */
    memset(name, 0, sizeof name);
    snprintf(name, sizeof name, "%s", base.path);
    FUZZ_HOLDS(vfs->xOpen(vfs, name, file, flags, NULL) == SQLITE_OK);
    for (size_t at = 0; at + PAGE <= bytes->length; at += PAGE)
        FUZZ_HOLDS(file->pMethods->xWrite(file, bytes->data + at, PAGE, (sqlite3_int64)at) ==
                   SQLITE_OK);
    file->pMethods->xClose(file);
    free(file);
}

static sqlite3 *open_plain(void)
{
    sqlite3 *db = NULL;
    FUZZ_HOLDS(sqlite3_open_v2(base.path, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK);
    return db;
}

int LLVMFuzzerInitialize(int *count, char ***words)
{
    (void)count;
    (void)words;
    setenv("PATH", "/nowhere", 1);
    base_make();
    lay_down(&base_bytes);
    sqlite3 *db = open_plain();
    FUZZ_HOLDS(sqlite3_exec(db, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name",
                            note_table, NULL, NULL) == SQLITE_OK);
    sqlite3_close(db);
    base_remove();
    FUZZ_HOLDS(freopen("/dev/null", "w", stdout) != NULL);
    return 0;
}

/* Not in the file's header, of which every other byte means that it is no ledger. */
static void change_bytes(struct fuzz_bytes *bytes)
{
    enum { HEADER = 100 };
    size_t at = fuzz_take(bytes) << 16;
    at |= fuzz_take(bytes) << 8;
    at = HEADER + (at | fuzz_take(bytes)) % (changed.length - HEADER);
    for (unsigned count = fuzz_take(bytes) % 8 + 1; count > 0 && at < changed.length; count--)
        changed.data[at++] = (char)fuzz_take(bytes);
}

static void bind_value(sqlite3_stmt *statement, struct fuzz_bytes *bytes)
{
    static const sqlite3_int64 numbers[] = {0,
                                            1,
                                            -1,
                                            2,
                                            127,
                                            255,
                                            65536,
                                            INT32_MAX,
                                            INT32_MIN,
                                            (sqlite3_int64)INT32_MAX + 1,
                                            INT64_MAX,
                                            INT64_MIN,
                                            (sqlite3_int64)1 << 62,
                                            1784376000000};
    static char text[4096];
    unsigned kind = fuzz_take(bytes) % 8;
    if (kind == 0)
        sqlite3_bind_null(statement, 1);
    else if (kind < 4)
        sqlite3_bind_int64(statement, 1,
                           numbers[fuzz_take(bytes) % (sizeof numbers / sizeof *numbers)]);
    else if (kind == 4)
        sqlite3_bind_double(statement, 1, fuzz_take(bytes) < 128 ? 1e300 : -0.5);
    else if (kind == 5) {
        memset(text, (int)fuzz_take(bytes), sizeof text);
        sqlite3_bind_text(statement, 1, text, (int)sizeof text, SQLITE_STATIC);
    } else {
        int length = (int)(fuzz_take(bytes) % 12);
        for (int i = 0; i < length; i++)
            text[i] = (char)fuzz_take(bytes);
        if (kind == 6)
            sqlite3_bind_text(statement, 1, text, length, SQLITE_TRANSIENT);
        else
            sqlite3_bind_blob(statement, 1, text, length, SQLITE_TRANSIENT);
    }
}

/* What the tables refuse is made a comment of their texts, and the texts are as they were again
 * afterwards: only the values are others. */
static void set_loose(bool loose)
{
    static const char *const texts[][2] = {
        {") STRICT, WITHOUT ROWID", ") /*STRICT,*/ WITHOUT ROWID"},
        {") STRICT", ") /*STRICT*/"},
        {" INTEGER NOT NULL", " INTEGER /*NOT NULL*/"},
        {" TEXT NOT NULL", " TEXT /*NOT NULL*/"},
    };
    sqlite3 *db = open_plain();
    sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
    FUZZ_HOLDS(sqlite3_exec(db, "PRAGMA writable_schema = ON", NULL, NULL, NULL) == SQLITE_OK);
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        sqlite3_stmt *statement = NULL;
        FUZZ_HOLDS(sqlite3_prepare_v2(db,
                                      "UPDATE sqlite_schema SET sql = replace(sql, ?1, ?2)"
                                      " WHERE type = 'table'",
                                      -1, &statement, NULL) == SQLITE_OK);
        sqlite3_bind_text(statement, 1, texts[i][loose ? 0 : 1], -1, SQLITE_STATIC);
        sqlite3_bind_text(statement, 2, texts[i][loose ? 1 : 0], -1, SQLITE_STATIC);
        sqlite3_step(statement);
        sqlite3_finalize(statement);
    }
    sqlite3_close(db);
}

/* Gives one column of one row another value, or deletes the row; of all rows where the table has no
 * numbers for them. */
static void change_value(sqlite3 *db, struct fuzz_bytes *bytes)
{
    const char *table = tables[fuzz_take(bytes) % (unsigned)table_count];
    unsigned column = fuzz_take(bytes), row = fuzz_take(bytes);
    char sql[512];
    sqlite3_stmt *statement = NULL;
    snprintf(sql, sizeof sql, "SELECT * FROM \"%s\"", table);
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
        return;
    column %= (unsigned)sqlite3_column_count(statement) + 1;
    if (column == 0)
        snprintf(sql, sizeof sql,
                 "DELETE FROM \"%s\" WHERE rowid = (SELECT rowid FROM \"%s\" LIMIT 1 OFFSET %u)",
                 table, table, row % 16);
    else
        snprintf(sql, sizeof sql,
                 "UPDATE \"%s\" SET \"%s\" = ?1 WHERE rowid ="
                 " (SELECT rowid FROM \"%s\" LIMIT 1 OFFSET %u)",
                 table, sqlite3_column_name(statement, (int)column - 1), table, row % 16);
    sqlite3_finalize(statement);
    bool prepared = sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK;
    if (!prepared) {
        *strstr(sql, " WHERE rowid") = '\0';
        prepared = sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK;
    }
    if (!prepared)
        return;
    if (column != 0)
        bind_value(statement, bytes);
    sqlite3_step(statement);
    sqlite3_finalize(statement);
}

/* Nothing of this is to be done where the bytes before have left no database. */
static bool is_sound(void)
{
    sqlite3 *db = open_plain();
    bool sound = sqlite3_exec(db, "PRAGMA quick_check", NULL, NULL, NULL) == SQLITE_OK;
    sqlite3_close(db);
    return sound;
}

static void change_values(struct fuzz_bytes *bytes, unsigned count)
{
    if (!is_sound())
        return;
    set_loose(true);
    sqlite3 *db = open_plain();
    sqlite3_db_config(db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
    sqlite3_exec(db, "PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON", NULL, NULL,
                 NULL);
    for (; count > 0 && bytes->left > 0; count--)
        change_value(db, bytes);
    sqlite3_close(db);
    set_loose(false);
}

/* One command line, its words separated by blanks. */
static void run(const char *line)
{
    enum { WORDS = 16 };
    const char *words[WORDS] = {"--ledger", base.path};
    char copy[128], *rest = NULL;
    int count = 2;
    struct err err = {0};
    snprintf(copy, sizeof copy, "%s", line);
    for (char *word = strtok_r(copy, " ", &rest); word != NULL; word = strtok_r(NULL, " ", &rest))
        words[count++] = word;
    if (!commands_run(count, words, &err))
        fuzz_sentence(&err);
}

static void run_group(unsigned group)
{
    static const char *const groups[GROUPS][7] = {
        {"check", "day --date 2026-07-18", "export lots"},
        {"list --date 2026-07-18", "list --spawning K1 --stage first --csv",
         "pass --spawning K1 --stage first --dry-run"},
        {"rates --by pair", "rates --by lot --csv", "pairs", "compare K9+P1 K9+P1"},
        {"season", "due --date 2026-07-18 --days 400", "effects"},
        {"kin K9 P1", "export fish", "export parents", "export spawnings", "export rounds",
         "export varieties", "export standard plain-first"},
        {"pass --spawning K1 --stage first --judge Ines --places 1", "check"},
    };
    for (int i = 0; i < 7 && groups[group][i] != NULL; i++)
        run(groups[group][i]);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    struct fuzz_bytes rest = {bytes, length};
    unsigned group = fuzz_take(&rest) % GROUPS;
    unsigned of_bytes = fuzz_take(&rest) % 8, of_values = fuzz_take(&rest) % 6;
    text_init(&changed);
    text_add_bytes(&changed, base_bytes.data, base_bytes.length);
    /* Values reach further: mostly there are no others. */
    for (; of_bytes > 4 && rest.left > 0; of_bytes--)
        change_bytes(&rest);
    lay_down(&changed);
    text_done(&changed);
    if (of_values > 0)
        change_values(&rest, of_values);
    run_group(group);
    base_remove();
    return 0;
}
