#include "bench.h"
#include "connection.h"
#include "pages.h"
#include "private.h"

#include "senbetsu/base/text.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

/* A ledger in which every table has rows that fill pages of their own. */
static void stock(struct bench *bench)
{
    bench_open(bench);
    bench_stock(bench);
    for (int number = 1; number <= 20; number++)
        bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", number % 5 + 1));
}

/* All that stands in a ledger, table by table; false with SQLite's code where it cannot be read. */
static bool read_all(sqlite3 *db, struct text *out, int *ret_code)
{
    sqlite3_stmt *tables, *rows;
    text_clear(out);
    int code = sqlite3_prepare_v2(
        db, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'sqlite_stat1'", -1,
        &tables, NULL);
    while (code == SQLITE_OK && (code = sqlite3_step(tables)) == SQLITE_ROW) {
        char *sql = sqlite3_mprintf("SELECT * FROM %s", sqlite3_column_text(tables, 0));
        code = sqlite3_prepare_v2(db, sql, -1, &rows, NULL);
        while (code == SQLITE_OK && (code = sqlite3_step(rows)) == SQLITE_ROW) {
            for (int column = 0; column < sqlite3_column_count(rows); column++)
                text_addf(out, "%s|", (const char *)sqlite3_column_text(rows, column));
            code = SQLITE_OK;
        }
        code = code == SQLITE_DONE ? SQLITE_OK : code;
        sqlite3_finalize(rows);
        sqlite3_free(sql);
    }
    if (code == SQLITE_DONE)
        code = SQLITE_OK;
    sqlite3_finalize(tables);
    *ret_code = code;
    return code == SQLITE_OK;
}

/* Reads all with a connection of its own. */
static int read_file(struct bench *bench, struct text *out)
{
    sqlite3 *db;
    int code;
    if (!connection_open(bench->path, false, &db, &bench->err))
        return bench->err.code == ERR_DAMAGE ? SQLITE_CORRUPT : SQLITE_ERROR;
    read_all(db, out, &code);
    connection_close(db, bench->path, true);
    return code;
}

static void flip(const char *path, off_t at, unsigned char bits)
{
    unsigned char byte;
    int file = open(path, O_RDWR);
    assert_int_equal(pread(file, &byte, 1, at), 1);
    byte ^= bits;
    assert_int_equal(pwrite(file, &byte, 1, at), 1);
    close(file);
}

static off_t size_of(const char *path)
{
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    return about.st_size;
}

/* Flips bits of each page of `path` in turn: what is read afterwards is what was read before, or
 * the file is called damaged. Gives how often it was. */
static int flip_each(struct bench *bench, const char *path, off_t first, off_t step,
                     const struct text *sound)
{
    static const int places[] = {0, 30, 105, 3000, 4090};
    int found = 0, done = 0;
    struct text now;
    text_init(&now);
    for (off_t page = first; page + PAGE_SIZE <= size_of(path); page += step) {
        for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
            off_t at = page + places[i];
            unsigned char bits = (unsigned char)(1 << (done++ % 8));
            flip(path, at, bits);
            int code = read_file(bench, &now);
            if (code == SQLITE_OK)
                assert_string_equal(now.data, sound->data);
            else
                assert_int_equal(code & 0xff, SQLITE_CORRUPT);
            found += code != SQLITE_OK;
            flip(path, at, bits);
        }
    }
    text_done(&now);
    assert_true(done >= 10);
    return found * 100 / done;
}

static void no_byte_of_a_page_changes_what_is_read(void **state)
{
    struct bench *bench = *state;
    struct text sound;
    text_init(&sound);
    stock(bench);
    bench_close(bench);
    assert_int_equal(read_file(bench, &sound), SQLITE_OK);
    /* Pages of indexes are not read here. */
    assert_true(flip_each(bench, bench->path, 0, PAGE_SIZE, &sound) >= 40);
    text_done(&sound);
}

/* The WAL of an open ledger: no recovery looks through it. */
static void no_byte_of_the_wal_changes_what_is_read(void **state)
{
    enum { HEADER = 32, FRAME = 24 };
    struct bench *bench = *state;
    struct text sound;
    text_init(&sound);
    stock(bench);
    const char *wal = bench_file(bench, "ledger.db-wal");
    assert_int_equal(read_file(bench, &sound), SQLITE_OK);
    off_t before = size_of(wal);
    assert_true(flip_each(bench, wal, HEADER + FRAME, 5 * (FRAME + PAGE_SIZE), &sound) > 0);
    assert_int_equal(size_of(wal), before);

    /* Such a page goes nowhere, whoever closes last. */
    flip(wal, before - 100, 1);
    assert_false(connection_checkpoint(bench->ledger->db, bench->path, &bench->err));
    assert_int_equal(bench->err.code, ERR_DAMAGE);
    flip(wal, before - 100, 1);
    assert_ok(connection_checkpoint(bench->ledger->db, bench->path, &bench->err), &bench->err);
    struct text now;
    text_init(&now);
    assert_int_equal(read_file(bench, &now), SQLITE_OK);
    assert_string_equal(now.data, sound.data);
    text_done(&now);
    text_done(&sound);
}

static void a_page_in_anothers_place_is_found(void **state)
{
    struct bench *bench = *state;
    struct text now;
    text_init(&now);
    stock(bench);
    int64_t page = bench_ask(bench, "SELECT rootpage FROM sqlite_schema WHERE name = 'fish'");
    bench_close(bench);
    size_t size;
    char *bytes = bench_bytes(bench->path, &size);
    memcpy(bytes + (page - 1) * PAGE_SIZE, bytes + page * PAGE_SIZE, PAGE_SIZE);
    bench_write(bench->path, bytes, size);
    assert_int_equal(read_file(bench, &now) & 0xff, SQLITE_CORRUPT);

    /* Nor is one that is missing at the end taken for zeros. */
    bench_write(bench->path, bytes, size - PAGE_SIZE);
    assert_false(file_check_header(bench->path, 1, &bench->err));
    assert_int_equal(bench->err.code, ERR_DAMAGE);
    free(bytes);
    text_done(&now);
}

/* More than the cache holds, so that pages are written to the WAL before the commit, and twice. */
static void a_large_transaction_reads_its_own_pages(void **state)
{
    struct bench *bench = *state;
    struct text before, now;
    int code;
    text_init(&before);
    text_init(&now);
    stock(bench);
    sqlite3 *db = bench->ledger->db;
    assert_ok(connection_run(db, bench->path,
                             "PRAGMA cache_size = 3; BEGIN;"
                             "UPDATE fish SET number = number + 1000;"
                             "UPDATE fish SET number = number - 1000;"
                             "UPDATE stroke SET at_ms = at_ms + 1;"
                             "UPDATE fish SET number = number + 1000;"
                             "UPDATE stroke SET at_ms = at_ms - 1;"
                             "INSERT INTO fish (id, bowl, number) SELECT id + 1000000, bowl,"
                             " number + 100000 FROM fish;"
                             "UPDATE fish SET number = number + 1 WHERE number > 100000",
                             &bench->err),
              &bench->err);
    assert_true(read_all(db, &before, &code));
    assert_ok(connection_run(db, bench->path, "COMMIT", &bench->err), &bench->err);
    assert_int_equal(read_file(bench, &now), SQLITE_OK);
    assert_string_equal(now.data, before.data);

    enum { HEADER = 32, FRAME = 24 };
    const char *wal = bench_file(bench, "ledger.db-wal");
    assert_true(flip_each(bench, wal, HEADER + FRAME, 7 * (FRAME + PAGE_SIZE), &now) > 0);
    text_done(&before);
    text_done(&now);
}

/* A file that has no room for checksums is no ledger of ours; another program's is left alone. */
static void files_without_checksums_are_refused(void **state)
{
    struct bench *bench = *state;
    sqlite3 *db;
    bench_open(bench);
    bench_close(bench);
    char *sql = sqlite3_mprintf("CREATE TABLE a (b); PRAGMA application_id = %d;"
                                "PRAGMA user_version = 1",
                                LEDGER_APPLICATION_ID);
    unlink(bench->path);
    assert_int_equal(sqlite3_open(bench->path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM a"), 0);
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    assert_says(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err,
                "is damaged");
    sqlite3_free(sql);
}

/* A program that knows nothing of checksums, such as the sqlite3 shell, copies page for page. */
static void a_closed_ledger_may_be_copied_by_another_program(void **state)
{
    struct bench *bench = *state;
    sqlite3 *from;
    sqlite3 *to;
    const char *plain = sqlite3_vfs_find("unix") != NULL ? "unix" : NULL;
    const char *path = bench_file(bench, "copy.db");
    stock(bench);
    bench_close(bench);
    assert_int_equal(sqlite3_open_v2(bench->path, &from, SQLITE_OPEN_READWRITE, plain), SQLITE_OK);
    assert_int_equal(sqlite3_open_v2(path, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, plain),
                     SQLITE_OK);
    sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
    assert_non_null(backup);
    assert_int_equal(sqlite3_backup_step(backup, -1), SQLITE_DONE);
    assert_int_equal(sqlite3_backup_finish(backup), SQLITE_OK);
    assert_int_equal(sqlite3_close(to), SQLITE_OK);
    assert_int_equal(sqlite3_close(from), SQLITE_OK);

    bool is_new;
    struct ledger_setup setup = bench_setup(bench, path, 2);
    setup.create = false;
    assert_ok(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err);
}

/* After a kill the last program that closes the ledger brings its pages into it from the WAL: also
 * one that knows nothing of checksums. What the WAL recovers from is right, too, and pages that
 * were written twice in a large transaction. */
static void another_program_may_close_what_a_killed_one_left(void **state)
{
    struct bench *bench = *state;
    struct text sound, now;
    size_t size, wal_size;
    sqlite3 *other;
    const char *plain = sqlite3_vfs_find("unix") != NULL ? "unix" : NULL;
    text_init(&sound);
    text_init(&now);
    stock(bench);
    sqlite3 *db = bench->ledger->db;
    assert_ok(connection_run(db, bench->path,
                             "PRAGMA cache_size = 3; BEGIN;"
                             "UPDATE fish SET number = number + 1000;"
                             "UPDATE stroke SET at_ms = at_ms + 1;"
                             "UPDATE fish SET number = number - 1000; COMMIT",
                             &bench->err),
              &bench->err);
    bench_stroke(bench, bench_fish(bench, 1, 21), 1, bench_score("white", 4));
    assert_int_equal(read_file(bench, &sound), SQLITE_OK);
    char *bytes = bench_bytes(bench->path, &size);
    char *wal = bench_bytes(bench_file(bench, "ledger.db-wal"), &wal_size);
    assert_true(wal_size > 50 * PAGE_SIZE);
    bench_close(bench);

    bench_write(bench->path, bytes, size);
    bench_write(bench_file(bench, "ledger.db-wal"), wal, wal_size);
    assert_int_equal(sqlite3_open_v2(bench->path, &other, SQLITE_OPEN_READWRITE, plain), SQLITE_OK);
    assert_int_equal(sqlite3_exec(other, "SELECT * FROM fish", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(other), SQLITE_OK);
    assert_int_equal(access(bench_file(bench, "ledger.db-wal"), F_OK), -1);

    assert_int_equal(read_file(bench, &now), SQLITE_OK);
    assert_string_equal(now.data, sound.data);
    bench_open(bench);
    free(bytes);
    free(wal);
    text_done(&sound);
    text_done(&now);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_empty_bench(no_byte_of_a_page_changes_what_is_read),
        on_empty_bench(no_byte_of_the_wal_changes_what_is_read),
        on_empty_bench(a_page_in_anothers_place_is_found),
        on_empty_bench(a_large_transaction_reads_its_own_pages),
        on_empty_bench(files_without_checksums_are_refused),
        on_empty_bench(another_program_may_close_what_a_killed_one_left),
        on_empty_bench(a_closed_ledger_may_be_copied_by_another_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
