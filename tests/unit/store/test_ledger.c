#include "bench.h"
#include "connection.h"
#include "private.h"
#include "senbetsu/store/backup.h"

#include <fcntl.h>
#include <signal.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static bool open_again(struct bench *bench, int seed, bool *ret_new)
{
    struct ledger_setup setup = bench_setup(bench, bench->path, seed);
    return ledger_open(&setup, &bench->ledger, ret_new, &bench->err);
}

static void a_ledger_is_made_once(void **state)
{
    struct bench *bench = *state;
    bool is_new = false;
    assert_ok(open_again(bench, 1, &is_new), &bench->err);
    assert_true(is_new);
    assert_string_equal(ledger_path(bench->ledger), bench->path);
    assert_int_equal(clock_now(ledger_clock(bench->ledger)), bench->now);
    bench_close(bench);
    assert_ok(open_again(bench, 2, &is_new), &bench->err);
    assert_false(is_new);
    bench_close(bench);
    assert_int_equal(bench_ask(bench, "PRAGMA application_id"), LEDGER_APPLICATION_ID);
    assert_int_equal(bench_ask(bench, "PRAGMA user_version"), migration_count);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM station"), 1);
}

static mode_t mode_of(const char *path)
{
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    return about.st_mode & 0777;
}

/* Also its journal; and both follow when the owner lets a group in. */
static void a_new_ledger_is_its_owners_alone(void **state)
{
    struct bench *bench = *state;
    mode_t mask = umask(0);
    bench_open(bench);
    assert_int_equal(mode_of(bench->path), 0600);
    assert_int_equal(mode_of(bench_file(bench, "ledger.db-wal")), 0600);
    assert_int_equal(mode_of(bench_file(bench, "ledger.db-shm")), 0600);
    bench_close(bench);
    umask(077);
    assert_int_equal(chmod(bench->path, 0660), 0);
    bench_open(bench);
    assert_int_equal(mode_of(bench_file(bench, "ledger.db-wal")), 0660);
    assert_int_equal(mode_of(bench_file(bench, "ledger.db-shm")), 0660);
    umask(mask);
}

static void no_ledger_is_made_at_the_end_of_a_link(void **state)
{
    struct bench *bench = *state;
    bool is_new;
    assert_int_equal(symlink("elsewhere.db", bench->path), 0);
    assert_says(open_again(bench, 1, &is_new), &bench->err, "This is a link that leads nowhere");
    assert_false(bench_exists(bench_file(bench, "elsewhere.db")));
}

static void an_empty_file_becomes_a_ledger_only_when_asked(void **state)
{
    struct bench *bench = *state;
    bool is_new = false;
    bench_write(bench->path, "", 0);
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    setup.create = false;
    assert_says(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err,
                "is empty, not a ledger");
    assert_ok(open_again(bench, 1, &is_new), &bench->err);
    assert_true(is_new);
}

static void closing_leaves_one_file(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    bench_stock(bench);
    assert_true(bench_exists(bench_file(bench, "ledger.db-wal")));
    bench_close(bench);
    assert_false(bench_exists(bench_file(bench, "ledger.db-wal")));
    assert_false(bench_exists(bench_file(bench, "ledger.db-shm")));
}

static void a_ledger_is_discarded_unless_somebody_uses_it(void **state)
{
    struct bench *bench = *state;
    struct ledger *other;
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    bench_open(bench);
    assert_ok(ledger_open(&setup, &other, &is_new, &bench->err), &bench->err);
    ledger_discard(bench->ledger);
    assert_true(bench_exists(bench->path));
    ledger_discard(other);
    assert_false(bench_exists(bench->path));
    assert_false(bench_exists(bench_file(bench, "ledger.db-wal")));
    bench->ledger = NULL;
}

static void the_connection_is_hardened(void **state)
{
    static const struct {
        int option;
        int expected;
    } settings[] = {
        {SQLITE_DBCONFIG_DEFENSIVE, 1},   {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
        {SQLITE_DBCONFIG_DQS_DDL, 0},     {SQLITE_DBCONFIG_DQS_DML, 0},
        {SQLITE_DBCONFIG_ENABLE_FKEY, 1}, {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
    };
    struct bench *bench = *state;
    bench_open(bench);
    for (size_t i = 0; i < sizeof settings / sizeof *settings; i++) {
        int value = -1;
        sqlite3_db_config(bench->ledger->db, settings[i].option, -1, &value);
        assert_int_equal(value, settings[i].expected);
    }
    sqlite3_stmt *statement;
    sqlite3_prepare_v2(bench->ledger->db, "PRAGMA journal_mode", -1, &statement, NULL);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    assert_string_equal((const char *)sqlite3_column_text(statement, 0), "wal");
    sqlite3_finalize(statement);
    sqlite3_prepare_v2(bench->ledger->db, "PRAGMA synchronous", -1, &statement, NULL);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    assert_int_equal(sqlite3_column_int(statement, 0), 3); /* EXTRA */
    sqlite3_finalize(statement);
}

static void transactions_nest_and_fail_as_one(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    bench_stock(bench);
    int64_t before = bench_ask(bench, "SELECT count(*) FROM bowl");

    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    bench_bowl(bench, 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM bowl"), before);
    assert_ok(transaction_commit(bench->ledger, &bench->err), &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM bowl"), before + 1);

    /* One write that fails takes all others of its transaction with it. */
    struct bowl bowl;
    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    bench_bowl(bench, 2);
    assert_false(bowl_begin(bench->ledger, 99, 1, 0, "2026-07-26", &bowl, &bench->err));
    assert_says(transaction_commit(bench->ledger, &bench->err), &bench->err, "Nothing was saved");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM bowl"), before + 1);

    /* And after it life goes on. */
    transaction_rollback(bench->ledger);
    bench_bowl(bench, 3);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM bowl"), before + 2);
}

static void a_second_writer_is_told_to_try_again(void **state)
{
    struct bench *bench = *state;
    struct ledger *other;
    bool is_new;
    bench_open(bench);
    bench_stock(bench);
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    assert_ok(ledger_open(&setup, &other, &is_new, &bench->err), &bench->err);
    sqlite3_busy_timeout(other->db, 10);

    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    assert_says(transaction_begin(other, &bench->err), &bench->err, "try again");
    assert_int_equal(bench->err.code, ERR_BUSY);
    assert_ok(transaction_commit(bench->ledger, &bench->err), &bench->err);
    assert_ok(transaction_begin(other, &bench->err), &bench->err);
    ledger_close(other);
}

static void two_writers_take_turns(void **state)
{
    struct bench *bench = *state;
    struct ledger *other;
    bool is_new;
    int64_t id;
    bench_open(bench);
    bench_stock(bench);
    struct bowl bowl = bench_bowl(bench, 1);
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    assert_ok(ledger_open(&setup, &other, &is_new, &bench->err), &bench->err);
    for (int number = 1; number <= 40; number++)
        assert_ok(fish_begin(number % 2 ? bench->ledger : other, bowl.id, number, &id, &bench->err),
                  &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(DISTINCT id) FROM fish"), 40);
    ledger_close(other);
}

/* What a bad file is made of: a good ledger to begin with, then spoilt. */
struct bad {
    const char *name;
    void (*spoil)(struct bench *bench, const char *path);
    const char *says;
};

static void overwrite(const char *path, long at, const void *bytes, size_t size)
{
    FILE *file = fopen(path, "r+b");
    assert_non_null(file);
    assert_int_equal(fseek(file, at, at < 0 ? SEEK_END : SEEK_SET), 0);
    assert_int_equal(fwrite(bytes, 1, size, file), size);
    fclose(file);
}

static void as_text(struct bench *bench, const char *path)
{
    (void)bench;
    bench_write(path, "spawning,season\nK1,2026\n", 24);
}

static void as_long_text(struct bench *bench, const char *path)
{
    char text[8192];
    (void)bench;
    memset(text, 'x', sizeof text);
    bench_write(path, text, sizeof text);
}

static void as_empty(struct bench *bench, const char *path)
{
    (void)bench;
    bench_write(path, "", 0);
}

static void as_one_byte(struct bench *bench, const char *path)
{
    (void)bench;
    bench_write(path, "S", 1);
}

static void as_zeros(struct bench *bench, const char *path)
{
    static const char zeros[4096];
    (void)bench;
    bench_write(path, zeros, sizeof zeros);
}

static void cut_in_header(struct bench *bench, const char *path)
{
    (void)bench;
    assert_int_equal(truncate(path, 60), 0);
}

static void cut_in_first_page(struct bench *bench, const char *path)
{
    (void)bench;
    assert_int_equal(truncate(path, 2000), 0);
}

static void cut_in_half(struct bench *bench, const char *path)
{
    struct stat about;
    (void)bench;
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(truncate(path, about.st_size / 2), 0);
}

static void cut_by_one_byte(struct bench *bench, const char *path)
{
    struct stat about;
    (void)bench;
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(truncate(path, about.st_size - 1), 0);
}

static void other_magic(struct bench *bench, const char *path)
{
    (void)bench;
    overwrite(path, 0, "SQLite format 2", 15);
}

static void version_spoilt(struct bench *bench, const char *path)
{
    (void)bench;
    overwrite(path, 18, "\x42", 1);
}

static void other_application(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA application_id = 12345");
}

static void no_application(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA application_id = 0");
}

static void newer(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA user_version = 700");
}

static void absurdly_new(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA user_version = -1");
}

static void spoilt_schema_page(struct bench *bench, const char *path)
{
    (void)bench;
    overwrite(path, 100, "\xff\xff\xff\xff\xff\xff\xff\xff", 8);
}

static void spoilt_middle_page(struct bench *bench, const char *path)
{
    char noise[4096];
    (void)bench;
    memset(noise, 0xa5, sizeof noise);
    overwrite(path, 4096L * 3, noise, sizeof noise);
}

static void spoilt_last_page(struct bench *bench, const char *path)
{
    char noise[4096];
    (void)bench;
    memset(noise, 0x5a, sizeof noise);
    overwrite(path, -4096, noise, sizeof noise);
}

static void odd_page_size(struct bench *bench, const char *path)
{
    (void)bench;
    overwrite(path, 16, "\x03\xe9", 2);
}

static void edited_step(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "UPDATE migration SET checksum = replace(checksum, 'c', 'd')");
}

static void lost_table(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA writable_schema = ON;"
                    "DELETE FROM sqlite_schema WHERE name = 'stroke_tag'");
}

static void added_trigger(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "CREATE TRIGGER t AFTER INSERT ON stroke BEGIN DELETE FROM stroke; END");
}

static void lost_rule(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench,
             "PRAGMA writable_schema = ON;"
             "UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (samples BETWEEN 1 AND 20)',"
             " '') WHERE name = 'scoop'");
}

static void view_of_nothing(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "DROP VIEW live_judge; CREATE VIEW live_judge AS SELECT 1 AS id, 'x' AS name");
}

static void absurd_step(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "INSERT INTO migration SELECT 2147483648, name, checksum, at_ms, program"
                    " FROM migration");
}

static void negative_step(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA ignore_check_constraints = ON; UPDATE migration SET version = -5");
}

static void no_steps(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "DELETE FROM migration");
}

static void version_nought(struct bench *bench, const char *path)
{
    (void)path;
    bench_do(bench, "PRAGMA user_version = 0");
}

static const struct bad bad_files[] = {
    {"text", as_text, "This is not a ledger"},
    {"long text", as_long_text, "This is not a ledger"},
    {"no bytes", as_empty, "is empty, not a ledger."},
    {"one byte", as_one_byte, "This is not a ledger"},
    {"zeros", as_zeros, "This is not a ledger"},
    {"cut in the header", cut_in_header, "This is not a ledger"},
    {"cut in the first page", cut_in_first_page, "is damaged"},
    {"cut in half", cut_in_half, "is damaged"},
    {"cut by a byte", cut_by_one_byte, "is damaged"},
    {"another format", other_magic, "This is not a ledger"},
    {"the format's version spoilt", version_spoilt, "is damaged"},
    {"another application's", other_application, "This is not a ledger"},
    {"no application's", no_application, "This is not a ledger"},
    {"newer", newer, "has layout 700, this program reads layouts up to "},
    {"absurdly new", absurdly_new, "this program reads layouts up to "},
    {"schema page spoilt", spoilt_schema_page, "is damaged"},
    {"a middle page spoilt", spoilt_middle_page, "is damaged"},
    {"the last page spoilt", spoilt_last_page, "is damaged"},
    {"odd page size", odd_page_size, "is damaged"},
    {"edited step", edited_step, "another migration "},
    {"an index lost", lost_table, "is damaged, its tables differ"},
    {"a trigger added", added_trigger, "is damaged, its tables differ"},
    {"a rule lost", lost_rule, "is damaged, its tables differ"},
    {"another view", view_of_nothing, "is damaged, its tables differ"},
    {"a step too many", absurd_step, "is damaged, its tables differ"},
    {"a step below none", negative_step, "is damaged, its tables differ"},
    {"no steps", no_steps, "is damaged, its tables differ"},
    {"a layout of none", version_nought, "is damaged, its tables differ"},
};

static void expect_one_sentence(const struct err *err)
{
    size_t length = strlen(err->text);
    assert_true(length > 1 && err->text[length - 1] == '.');
    assert_null(strchr(err->text, '\n'));
    assert_null(strstr(err->text, ". "));
}

static void expect_refused_untouched(struct bench *bench, const struct bad *bad)
{
    struct stat before;
    struct stat after;
    size_t size_before;
    size_t size_after;
    bool is_new;
    char *bytes_before = bench_bytes(bench->path, &size_before);
    assert_int_equal(stat(bench->path, &before), 0);

    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    setup.create = false;
    bench->err.text[0] = '\0';
    if (ledger_open(&setup, &bench->ledger, &is_new, &bench->err))
        fail_msg("%s was opened", bad->name);
    if (strstr(bench->err.text, bad->says) == NULL)
        fail_msg("%s: %s", bad->name, bench->err.text);
    expect_one_sentence(&bench->err);
    assert_non_null(strstr(bench->err.text, bench->path));

    char *bytes_after = bench_bytes(bench->path, &size_after);
    assert_int_equal(stat(bench->path, &after), 0);
    assert_int_equal(size_after, size_before);
    assert_memory_equal(bytes_after, bytes_before, size_before);
    assert_memory_equal(&after.st_mtim, &before.st_mtim, sizeof before.st_mtim);
    assert_false(bench_exists(bench_file(bench, "ledger.db-wal")));
    assert_false(bench_exists(bench_file(bench, "ledger.db-shm")));
    assert_false(bench_exists(bench_file(bench, "ledger.db-journal")));
    free(bytes_before);
    free(bytes_after);
}

static void bad_files_are_refused_untouched(void **state)
{
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof bad_files / sizeof *bad_files; i++) {
        unlink(bench->path);
        bench_open(bench);
        bench_stock(bench);
        bench_close(bench);
        bad_files[i].spoil(bench, bench->path);
        expect_refused_untouched(bench, &bad_files[i]);
    }
}

static void expect_no_opening(struct bench *bench, const char *path, bool create, const char *says)
{
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, path, 1);
    setup.create = create;
    assert_says(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err, says);
    expect_one_sentence(&bench->err);
}

static void what_is_no_file_is_refused(void **state)
{
    struct bench *bench = *state;
    expect_no_opening(bench, bench->path, false, "There is no ledger");
    expect_no_opening(bench, bench->folder, true, "is a folder, not a ledger");
    expect_no_opening(bench, bench_file(bench, "no/such/folder.db"), true, "is not there");
    expect_no_opening(bench, "/dev/null", true, "This is not a ledger");
    const char *pipe = bench_file(bench, "pipe");
    assert_int_equal(mkfifo(pipe, 0600), 0);
    expect_no_opening(bench, pipe, true, "This is not a ledger");
    assert_false(bench_exists(bench->path));
}

/* Runs as somebody without rights, since root may do everything. */
static void expect_for_stranger(struct bench *bench, const char *says)
{
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        struct ledger *ledger;
        bool is_new;
        struct err err = {.text = ""};
        struct ledger_setup setup = bench_setup(bench, bench->path, 1);
        if (geteuid() == 0 && setuid(65534) != 0)
            _exit(2);
        bool opened = ledger_open(&setup, &ledger, &is_new, &err);
        _exit(!opened && strstr(err.text, says) != NULL ? 0 : 1);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
}

static void rights_are_missed_in_one_sentence(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    bench_close(bench);
    assert_int_equal(chmod(bench->folder, 0755), 0);
    assert_int_equal(chmod(bench->path, 0444), 0);
    expect_for_stranger(bench, "is read-only");
    assert_int_equal(chmod(bench->path, 0000), 0);
    expect_for_stranger(bench, "cannot be read");
    assert_int_equal(chmod(bench->path, 0666), 0);
    assert_int_equal(chmod(bench->folder, 0555), 0);
    expect_for_stranger(bench, "cannot be written to");
    assert_int_equal(unlink(bench->path), geteuid() == 0 ? 0 : -1);
    if (geteuid() == 0)
        expect_for_stranger(bench, "cannot be written to");
    assert_int_equal(chmod(bench->folder, 0700), 0);
}

/* What a process without rights does in the ledger's folder; 0 = as it should. */
static int apart(struct bench *bench, int (*does)(struct bench *bench))
{
    int status;
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        if (geteuid() == 0 && setuid(65534) != 0)
            _exit(99);
        bench->ledger = NULL;
        _exit(does(bench));
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

static int read_and_back_up(struct bench *bench)
{
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    struct round round;
    char copy[128];
    bool is_new = true;
    snprintf(copy, sizeof copy, "%s-copies/copy.db", bench->folder);
    if (ledger_open(&setup, &bench->ledger, &is_new, &bench->err))
        return 1; /* for writing */
    setup.create = false;
    setup.only_read = true;
    if (!ledger_open(&setup, &bench->ledger, &is_new, &bench->err) || is_new)
        return 2;
    if (!round_find(bench->ledger, "K1", NULL, STAGE_SECOND, &round, &bench->err))
        return 3;
    if (!ledger_backup(bench->ledger, copy, &bench->err))
        return 4;
    if (round_begin(bench->ledger, "K1", "", STAGE_HARVEST, &round, &bench->err) ||
        bench->err.code != ERR_READONLY)
        return 5;
    if (!ledger_held_still(bench->ledger, &bench->err))
        return 6;
    ledger_close(bench->ledger);
    return 0;
}

/* On a mounted stick, say: the file cannot be written, or its folder, or both. */
static void a_ledger_that_cannot_be_written_is_read_and_backed_up(void **state)
{
    static const mode_t modes[][2] = {{0444, 0755}, {0666, 0555}, {0444, 0777}};
    struct bench *bench = *state;
    char copies[128];
    char copy[160];
    bench_open(bench);
    bench_stock(bench);
    bench_close(bench);
    snprintf(copies, sizeof copies, "%s-copies", bench->folder);
    snprintf(copy, sizeof copy, "%s/copy.db", copies);
    assert_int_equal(mkdir(copies, 0777), 0);
    assert_int_equal(chmod(copies, 0777), 0);
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        assert_int_equal(chmod(bench->path, modes[i][0]), 0);
        assert_int_equal(chmod(bench->folder, modes[i][1]), 0);
        assert_int_equal(apart(bench, read_and_back_up), 0);
        assert_int_equal(chmod(bench->folder, 0700), 0);
        assert_false(bench_exists(bench_file(bench, "ledger.db-wal")));
        struct stat about;
        assert_int_equal(stat(copy, &about), 0);
        assert_int_equal(about.st_mode & 0777, modes[i][0] | 0600);
        unlink(copy);
    }
    rmdir(copies);
}

static int read_beside_a_writer(struct bench *bench)
{
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    struct round round;
    bool is_new;
    setup.create = false;
    setup.only_read = true;
    if (!ledger_open(&setup, &bench->ledger, &is_new, &bench->err))
        return 1;
    if (!round_find(bench->ledger, "K1", NULL, STAGE_SECOND, &round, &bench->err))
        return 2; /* it is in the WAL */
    ledger_close(bench->ledger);
    return 0;
}

static void what_its_owner_has_open_is_read_with_the_wal(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    bench_stock(bench);
    assert_int_equal(chmod(bench->folder, 0755), 0);
    assert_int_equal(chmod(bench->path, 0644), 0);
    assert_int_equal(chmod(bench_file(bench, "ledger.db-wal"), 0644), 0);
    assert_int_equal(chmod(bench_file(bench, "ledger.db-shm"), 0644), 0);
    assert_int_equal(apart(bench, read_beside_a_writer), 0);
}

/* Without locks nobody notices a writer; but nothing is told of what was read beside one. */
static int read_while_another_begins(struct bench *bench)
{
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    bool is_new;
    setup.create = false;
    setup.only_read = true;
    if (!ledger_open(&setup, &bench->ledger, &is_new, &bench->err) ||
        !ledger_held_still(bench->ledger, &bench->err))
        return 1;
    bench_write(bench_file(bench, "open"), "", 0);
    while (!file_has_beside(bench->path, "-wal"))
        continue;
    return ledger_held_still(bench->ledger, &bench->err) ? 2 : bench->err.code == ERR_BUSY ? 0 : 3;
}

static void a_writer_that_comes_meanwhile_is_noticed(void **state)
{
    struct bench *bench = *state;
    int status;
    bench_open(bench);
    bench_close(bench);
    assert_int_equal(chmod(bench->folder, 0777), 0);
    assert_int_equal(chmod(bench->path, 0444), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        if (geteuid() == 0 && setuid(65534) != 0)
            _exit(99);
        _exit(read_while_another_begins(bench));
    }
    while (!bench_exists(bench_file(bench, "open")) && waitpid(child, &status, WNOHANG) == 0)
        continue;
    assert_int_equal(chmod(bench->path, 0600), 0);
    bench_open(bench);
    bench_stock(bench);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(WEXITSTATUS(status), 0);
}

static void expect_notice(struct bench *bench, const char *says)
{
    char *const *sentences;
    bench_open(bench);
    size_t count = ledger_notices(bench->ledger, &sentences);
    assert_int_equal(count, says == NULL ? 0 : 1);
    if (says != NULL && strstr(sentences[0], says) == NULL)
        fail_msg("it says: %s", sentences[0]);
    bench_close(bench);
}

static void a_clock_that_cannot_be_right_is_told(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    bench_stock(bench);
    bench_stroke(bench, bench_fish(bench, 1, 1), 1, bench_score("white", 3));
    bench_close(bench);
    expect_notice(bench, NULL);
    bench->now -= INT64_C(7) * 60 * 60 * 1000; /* the same day */
    expect_notice(bench, NULL);
    bench->now -= DAY_MS;
    expect_notice(bench, "says 2026-07-25, but the ledger was written on 2026-07-26 at 08:00");
    bench->now = 200 * 1000;
    expect_notice(bench, "says 1970-01-01; set it before you record");
}

static void a_locked_ledger_is_refused_untouched(void **state)
{
    struct bench *bench = *state;
    sqlite3 *holder;
    size_t before;
    size_t after;
    bench_open(bench);
    bench_close(bench);
    char *bytes_before = bench_bytes(bench->path, &before);

    assert_int_equal(sqlite3_open(bench->path, &holder), SQLITE_OK);
    sqlite3_exec(holder, "PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE; ROLLBACK", NULL, NULL,
                 NULL);
    expect_no_opening(bench, bench->path, false, "Another program is using the ledger");
    assert_int_equal(bench->err.code, ERR_BUSY);
    sqlite3_close(holder);

    char *bytes_after = bench_bytes(bench->path, &after);
    assert_int_equal(after, before);
    assert_memory_equal(bytes_after, bytes_before, before);
    free(bytes_before);
    free(bytes_after);
}

static volatile sig_atomic_t stops;

static void count_stop(int number)
{
    stops += number == SIGTSTP;
}

/* Ctrl-Z waits: a program that is stopped holds no lock. */
static void nothing_stops_a_transaction(void **state)
{
    struct bench *bench = *state;
    struct sigaction before, counting = {.sa_handler = count_stop};
    sigemptyset(&counting.sa_mask);
    bench_open(bench);
    sigaction(SIGTSTP, &counting, &before);
    stops = 0;
    for (int committed = 0; committed < 2; committed++) {
        assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
        raise(SIGTSTP);
        assert_int_equal(stops, committed);
        if (committed)
            assert_ok(transaction_commit(bench->ledger, &bench->err), &bench->err);
        else
            transaction_rollback(bench->ledger);
        assert_int_equal(stops, committed + 1);
        raise(SIGTSTP);
        assert_int_equal(stops, committed + 2);
        stops = committed + 1;
    }
    sigaction(SIGTSTP, &before, NULL);
    bench_close(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_empty_bench(a_ledger_is_made_once),
        on_empty_bench(a_new_ledger_is_its_owners_alone),
        on_empty_bench(no_ledger_is_made_at_the_end_of_a_link),
        on_empty_bench(an_empty_file_becomes_a_ledger_only_when_asked),
        on_empty_bench(closing_leaves_one_file),
        on_empty_bench(a_ledger_is_discarded_unless_somebody_uses_it),
        on_empty_bench(the_connection_is_hardened),
        on_empty_bench(transactions_nest_and_fail_as_one),
        on_empty_bench(a_second_writer_is_told_to_try_again),
        on_empty_bench(two_writers_take_turns),
        on_empty_bench(nothing_stops_a_transaction),
        on_empty_bench(bad_files_are_refused_untouched),
        on_empty_bench(what_is_no_file_is_refused),
        on_empty_bench(rights_are_missed_in_one_sentence),
        on_empty_bench(a_ledger_that_cannot_be_written_is_read_and_backed_up),
        on_empty_bench(what_its_owner_has_open_is_read_with_the_wal),
        on_empty_bench(a_writer_that_comes_meanwhile_is_noticed),
        on_empty_bench(a_clock_that_cannot_be_right_is_told),
        on_empty_bench(a_locked_ledger_is_refused_untouched),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
