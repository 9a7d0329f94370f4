/* Several programs at one ledger file, each a process of its own: who comes first, who is stopped
 * in the middle, who stays. No test waits for a certain time. */
#include "bench.h"
#include "private.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/spawnings.h"

#include <signal.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { PROGRAMS = 8 };

/* A line from one process to another: a byte is a sign, its end as well. */
struct line {
    int out, in;
};

static struct line open_line(void)
{
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    return (struct line){ends[0], ends[1]};
}

static void close_line(struct line line)
{
    close(line.out);
    close(line.in);
}

/* In a process that has nobody to report to. */
static void must(bool good, const struct err *err)
{
    if (good)
        return;
    fprintf(stderr, "%s\n", err->text);
    _exit(1);
}

static void assert_ended_well(pid_t pid)
{
    int status;
    assert_int_equal(waitpid(pid, &status, 0), pid);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
}

/* As many programs as there are do `work` at once, with numbers from 1; all must do well. */
static void all_at_once(struct bench *bench, void (*work)(struct bench *bench, int number))
{
    pid_t programs[PROGRAMS];
    struct line begin = open_line();
    for (int i = 0; i < PROGRAMS; i++) {
        char byte;
        programs[i] = fork();
        assert_true(programs[i] >= 0);
        if (programs[i] > 0)
            continue;
        close(begin.in);
        if (read(begin.out, &byte, 1) == 0)
            work(bench, i + 1);
        _exit(0);
    }
    close_line(begin);
    for (int i = 0; i < PROGRAMS; i++)
        assert_ended_well(programs[i]);
}

static void open_and_sign(struct bench *bench, int number)
{
    bool is_new;
    int64_t judge;
    char name[8];
    struct ledger_setup setup = bench_setup(bench, bench->path, number);
    must(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err);
    snprintf(name, sizeof name, "J%d", number);
    must(judge_named(bench->ledger, name, &judge, &bench->err), &bench->err);
    bench_close(bench);
}

static void a_new_ledger_is_made_once(void **state)
{
    struct bench *bench = *state;
    all_at_once(bench, open_and_sign);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge"), PROGRAMS);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM station"), 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM migration"), migration_count);
}

/* One more step than there is. */
static void open_later(struct bench *bench, int number)
{
    static const char step[] = "CREATE TABLE pond (id INTEGER PRIMARY KEY) STRICT;";
    struct migration later[64];
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, number);
    memcpy(later, migrations, sizeof *later * (size_t)migration_count);
    later[migration_count] = (struct migration){
        migration_count + 1, "9999_ponds", step,
        "0000000000000000000000000000000000000000000000000000000000000000", NULL};
    must(ledger_open_at(&setup, later, migration_count + 1, &bench->ledger, &is_new, &bench->err),
         &bench->err);
    bench_close(bench);
}

static void a_ledger_is_upgraded_once(void **state)
{
    struct bench *bench = *state;
    open_and_sign(bench, 1);
    all_at_once(bench, open_later);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM migration"), migration_count + 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge"), 1);
}

static void read_a_little(struct bench *bench, int number)
{
    struct spawning spawning;
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, number);
    setup.only_read = number % 2 == 0;
    must(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err);
    must(spawning_get(bench->ledger, "K1", &spawning, &bench->err), &bench->err);
    must(spawning.season == 2026, &bench->err);
    bench_close(bench);
}

/* An import may take seconds: until it is over, the ledger is as it was before. */
static void others_come_and_go_beside_a_long_change(void **state)
{
    struct bench *bench = *state;
    struct line begun = open_line(), over = open_line();
    char byte;
    bench_close(bench);
    pid_t importer = fork();
    if (importer == 0) {
        int64_t judge;
        close(over.in);
        bench_open(bench);
        must(transaction_begin(bench->ledger, &bench->err), &bench->err);
        must(judge_named(bench->ledger, "Ines", &judge, &bench->err), &bench->err);
        must(write(begun.in, "", 1) == 1, &bench->err);
        must(read(over.out, &byte, 1) == 0, &bench->err);
        must(transaction_commit(bench->ledger, &bench->err), &bench->err);
        bench_close(bench);
        _exit(0);
    }
    assert_int_equal(read(begun.out, &byte, 1), 1);
    all_at_once(bench, read_a_little);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge"), 0);
    close_line(over);
    assert_ended_well(importer);
    close_line(begun);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge"), 1);
}

static void write_until_killed(struct bench *bench, struct line written)
{
    int64_t judge;
    bench_open(bench);
    must(judge_named(bench->ledger, "Ryo", &judge, &bench->err), &bench->err);
    must(transaction_begin(bench->ledger, &bench->err), &bench->err);
    must(judge_named(bench->ledger, "Ines", &judge, &bench->err), &bench->err);
    must(write(written.in, "", 1) == 1, &bench->err);
    for (;;)
        pause();
}

/* A program that holds the ledger and one that it keeps waiting; the first is killed. */
static void start_and_kill(struct bench *bench, void (*beside)(struct bench *bench))
{
    struct line written = open_line();
    char byte;
    bench_close(bench);
    pid_t writer = fork();
    if (writer == 0)
        write_until_killed(bench, written);
    assert_int_equal(read(written.out, &byte, 1), 1);
    close_line(written);
    if (beside != NULL)
        beside(bench);
    kill(writer, SIGKILL);
    assert_int_equal(waitpid(writer, NULL, 0), writer);
}

static void others_go_on_after_one_is_killed(void **state)
{
    struct bench *bench = *state;
    int64_t judge;
    start_and_kill(bench, bench_open);
    assert_ok(judge_named(bench->ledger, "Aiko", &judge, &bench->err), &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge"), 2);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge WHERE name = 'Ines'"), 0);
}

/* Nobody else had it open: whoever comes first puts the file in order, the others wait for that. */
static void all_find_it_in_order_after_the_last_was_killed(void **state)
{
    struct bench *bench = *state;
    start_and_kill(bench, NULL);
    all_at_once(bench, open_and_sign);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge"), PROGRAMS + 1);
}

static off_t size_of_wal(const struct bench *bench)
{
    struct stat about;
    char path[128];
    snprintf(path, sizeof path, "%s-wal", bench->path);
    return stat(path, &about) == 0 ? about.st_size : 0;
}

/* Rewrites a record again and again: pages enough to fill the WAL several times. */
static void write_much(struct bench *bench)
{
    struct spawning spawning;
    enum saved saved;
    assert_ok(spawning_get(bench->ledger, "K1", &spawning, &bench->err), &bench->err);
    for (int i = 0; i < 1000; i++) {
        spawning.eggs = 1000 + (spawning.eggs + 1) % 7;
        assert_ok(spawning_change(bench->ledger, "K1", &spawning, 0, "", &saved, &bench->err),
                  &bench->err);
    }
}

/* A report that is read for long keeps the WAL growing, and nobody waiting; when it is over the WAL
 * begins anew and grows no further. */
static void a_reader_holds_nobody_up(void **state)
{
    struct bench *bench = *state;
    struct spawning spawning;
    struct ledger *reader;
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    assert_ok(ledger_open(&setup, &reader, &is_new, &bench->err), &bench->err);
    assert_int_equal(sqlite3_exec(bench->ledger->db, "PRAGMA synchronous = OFF", NULL, NULL, NULL),
                     SQLITE_OK); /* or this would take long */
    ledger_read_begin(reader);
    assert_ok(spawning_get(reader, "K1", &spawning, &bench->err), &bench->err);
    write_much(bench);
    off_t grown = size_of_wal(bench);
    assert_ok(spawning_get(reader, "K1", &spawning, &bench->err), &bench->err);
    assert_int_equal(spawning.eggs, NOT_COUNTED);
    ledger_read_end(reader);
    assert_ok(spawning_get(reader, "K1", &spawning, &bench->err), &bench->err);
    assert_true(spawning.eggs > 0);
    write_much(bench);
    assert_true(size_of_wal(bench) < grown + grown / 4);
    ledger_close(reader);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_empty_bench(a_new_ledger_is_made_once),
        on_empty_bench(a_ledger_is_upgraded_once),
        on_stocked_bench(others_come_and_go_beside_a_long_change),
        on_stocked_bench(others_go_on_after_one_is_killed),
        on_stocked_bench(all_find_it_in_order_after_the_last_was_killed),
        on_stocked_bench(a_reader_holds_nobody_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
