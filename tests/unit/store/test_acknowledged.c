#include "bench.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { STROKES = 40 };

/* Records strokes and is killed: nothing is closed, all is left in the WAL. */
static void record_and_die(struct bench *bench)
{
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        bench_open(bench);
        for (int number = 1; number <= STROKES; number++)
            bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", 4));
        _exit(0);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
}

static void make(struct bench *bench)
{
    bench_open(bench);
    bench_stock(bench);
    bench_close(bench);
    record_and_die(bench);
}

static void flip_in_the_middle(const char *path)
{
    unsigned char byte;
    int file = open(path, O_RDWR);
    off_t at = lseek(file, 0, SEEK_END) / 2;
    assert_int_equal(pread(file, &byte, 1, at), 1);
    byte ^= 1;
    assert_int_equal(pwrite(file, &byte, 1, at), 1);
    close(file);
}

static size_t notices(struct bench *bench, const char **ret_first)
{
    char *const *sentences;
    bench_open(bench);
    size_t count = ledger_notices(bench->ledger, &sentences);
    if (count > 0)
        *ret_first = sentences[0];
    return count;
}

static void strokes_lost_by_one_bit_are_told(void **state)
{
    struct bench *bench = *state;
    const char *said = NULL;
    make(bench);
    flip_in_the_middle(bench_file(bench, "ledger.db-wal"));
    assert_int_equal(notices(bench, &said), 1);
    int64_t left = bench_ask(bench, "SELECT count(*) FROM stroke");
    assert_in_range(left, 1, STROKES - 1);

    int64_t records = strtoll(strstr(said, "up to ") + strlen("up to "), NULL, 10);
    assert_in_range(records, STROKES - left, 3 * (STROKES - left));
    char last[64];
    snprintf(last, sizeof last, "bowl 1, fish %d, second cull of K1, from ", (int)left);
    if (strstr(said, last) == NULL)
        fail_msg("%s lacks %s", said, last);
    assert_non_null(strstr(said, "judge again what is not there."));

    /* Until somebody has seen it, whatever is recorded meanwhile. */
    for (int number = 1; number <= STROKES; number++)
        bench_stroke(bench, bench_fish(bench, 2, number), 1, bench_score("white", 4));
    bench_close(bench);
    assert_int_equal(notices(bench, &said), 1);
    ledger_notices_seen(bench->ledger);
    bench_close(bench);
    assert_int_equal(notices(bench, &said), 0);
}

static void a_crash_that_loses_nothing_is_not_told(void **state)
{
    struct bench *bench = *state;
    const char *said = "";
    make(bench);
    assert_int_equal(notices(bench, &said), 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM stroke"), STROKES);
}

/* Two programs at once, and one that opens between a commit and its note. */
static void others_at_work_are_no_loss(void **state)
{
    struct bench *bench = *state;
    struct ledger *other;
    char *const *sentences;
    bool is_new;
    bench_open(bench);
    bench_stock(bench);
    for (int number = 1; number <= 20; number++) {
        struct ledger_setup setup = bench_setup(bench, bench->path, 2);
        bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", 4));
        assert_ok(ledger_open(&setup, &other, &is_new, &bench->err), &bench->err);
        assert_int_equal(ledger_notices(other, &sentences), 0);
        bench_stroke(bench, bench_fish(bench, 2, number), 1, bench_score("white", 4));
        ledger_close(other);
    }
}

/* A copy is another station: it never had what the ledger had after it. */
static void a_restored_copy_has_lost_nothing(void **state)
{
    struct bench *bench = *state;
    const char *said = "";
    size_t size;
    make(bench);
    bench_open(bench);
    bench_close(bench);
    char *bytes = bench_bytes(bench->path, &size);
    record_and_die(bench);
    bench_open(bench);
    bench_close(bench);
    bench_write(bench_file(bench, "copy.db"), bytes, size);
    assert_int_equal(rename(bench_file(bench, "copy.db"), bench->path), 0);
    assert_int_equal(notices(bench, &said), 0);
    free(bytes);
}

/* Nothing hangs on the file. */
static void without_the_file_nothing_is_told(void **state)
{
    struct bench *bench = *state;
    const char *said = "", *file = bench_file(bench, "ledger.db-acknowledged");
    make(bench);
    bench_write(file, "nonsense", 8);
    assert_int_equal(notices(bench, &said), 0);
    bench_close(bench);
    assert_int_equal(unlink(file), 0);
    assert_int_equal(mkdir(file, 0700), 0);
    assert_int_equal(notices(bench, &said), 0);
    bench_stroke(bench, bench_fish(bench, 2, 1), 1, bench_score("white", 4));
    bench_close(bench);
    assert_int_equal(rmdir(file), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_empty_bench(strokes_lost_by_one_bit_are_told),
        on_empty_bench(a_crash_that_loses_nothing_is_not_told),
        on_empty_bench(others_at_work_are_no_loss),
        on_empty_bench(a_restored_copy_has_lost_nothing),
        on_empty_bench(without_the_file_nothing_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
