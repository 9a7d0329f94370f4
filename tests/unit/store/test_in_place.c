#include "bench.h"
#include "private.h"

#include "senbetsu/base/text.h"

#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

/* A judge is recorded, or is not. */
static bool record(struct bench *bench, const char *name)
{
    int64_t id;
    return judge_named(bench->ledger, name, &id, &bench->err);
}

static int64_t judges_in(struct bench *bench, const char *path)
{
    struct bench other = {.now = bench->now};
    snprintf(other.path, sizeof other.path, "%s", path);
    return bench_ask(&other, "SELECT count(*) FROM judge");
}

static void expect_gone(struct bench *bench, const char *says)
{
    assert_says(record(bench, "Rin"), &bench->err, says);
    assert_int_equal(bench->err.code, ERR_GONE);
    assert_says(ledger_check_place(bench->ledger, &bench->err), &bench->err, says);
}

static void a_moved_ledger_takes_no_more(void **state)
{
    struct bench *bench = *state;
    const char *moved = bench_file(bench, "moved.db");
    bench_open(bench);
    assert_ok(record(bench, "Aki"), &bench->err);
    assert_int_equal(rename(bench->path, moved), 0);
    expect_gone(bench, "was moved while it was open; your work is in: ");
    assert_non_null(strstr(bench->err.text, moved));

    /* Back in its place it goes on. */
    assert_int_equal(rename(moved, bench->path), 0);
    assert_ok(ledger_check_place(bench->ledger, &bench->err), &bench->err);
    assert_ok(record(bench, "Mei"), &bench->err);

    assert_int_equal(rename(bench->path, moved), 0);
    assert_false(record(bench, "Rin"));
    bench_close(bench);
    assert_false(bench_exists(bench->path));
    assert_int_equal(judges_in(bench, moved), 2); /* all of it, without its WAL */
}

static void a_replaced_ledger_takes_no_more(void **state)
{
    struct bench *bench = *state;
    const char *old = bench_file(bench, "old.db"), *other = bench_file(bench, "other.db");
    bench_open(bench);
    bench_close(bench);
    size_t size;
    char *bytes = bench_bytes(bench->path, &size);
    bench_write(other, bytes, size);
    bench_open(bench);
    assert_ok(record(bench, "Aki"), &bench->err);
    assert_int_equal(rename(bench->path, old), 0);
    assert_int_equal(rename(other, bench->path), 0);
    expect_gone(bench, old);
    bench_close(bench);
    assert_int_equal(judges_in(bench, old), 1);

    size_t now_size;
    char *now = bench_bytes(bench->path, &now_size);
    assert_int_equal(now_size, size);
    assert_memory_equal(now, bytes, size);
    free(now);
    free(bytes);
}

static void a_deleted_ledger_is_kept_as_a_copy(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    assert_ok(record(bench, "Aki"), &bench->err);
    assert_int_equal(unlink(bench->path), 0);
    assert_says(record(bench, "Rin"), &bench->err, "was deleted while it was open");
    assert_int_equal(bench->err.code, ERR_GONE);
    assert_says(ledger_check_place(bench->ledger, &bench->err), &bench->err,
                "was deleted while it was open; all up to now is kept in: ");
    char copy[512];
    snprintf(copy, sizeof copy, "%s", strstr(bench->err.text, "in: ") + strlen("in: "));
    copy[strlen(copy) - 1] = '\0';
    assert_non_null(strstr(copy, ".rescued-"));
    expect_gone(bench, copy); /* one is enough */
    bench_close(bench);
    assert_false(bench_exists(bench->path));
    assert_int_equal(judges_in(bench, copy), 1);

    /* No empty ledger takes its place. */
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, 2);
    assert_says(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err,
                "The ledger is gone");
}

/* SQLite would take what follows the colon for the name, and what follows a '?' for orders. */
static void a_name_is_a_name(void **state)
{
    static const char *const names[] = {"file:ledger.db", "file:ledger.db?mode=memory",
                                        "file:/nowhere/a.db", ":memory:"};
    struct bench *bench = *state;
    char before[512];
    assert_non_null(getcwd(before, sizeof before));
    assert_int_equal(chdir(bench->folder), 0);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        bool is_new;
        struct ledger_setup setup = bench_setup(bench, names[i], 1);
        if (strchr(names[i], '/') != NULL) {
            assert_false(ledger_open(&setup, &bench->ledger, &is_new, &bench->err));
            continue;
        }
        assert_ok(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err);
        assert_ok(record(bench, "Aki"), &bench->err);
        bench_close(bench);
        assert_true(bench_exists(bench_file(bench, names[i])));
        assert_int_equal(judges_in(bench, bench_file(bench, names[i])), 1);
    }
    assert_int_equal(chdir(before), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_empty_bench(a_moved_ledger_takes_no_more),
        on_empty_bench(a_replaced_ledger_takes_no_more),
        on_empty_bench(a_deleted_ledger_is_kept_as_a_copy),
        on_empty_bench(a_name_is_a_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
