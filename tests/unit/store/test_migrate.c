#include "bench.h"
#include "private.h"

#include <unistd.h>

/* A later program's steps: today's and one more. */
static const char later_step[] = "ALTER TABLE judge ADD COLUMN town TEXT;\n"
                                 "CREATE TABLE pond (id INTEGER PRIMARY KEY) STRICT;\n";
static const char failing_step[] = "CREATE TABLE pond (id INTEGER PRIMARY KEY) STRICT;\n"
                                   "CREATE TABLE judge (id INTEGER PRIMARY KEY) STRICT;\n";

enum { STEPS_MOST = 64 };

static bool open_later(struct bench *bench, const char *step)
{
    bool is_new;
    struct migration later[STEPS_MOST];
    assert_in_range(migration_count, 1, STEPS_MOST - 1);
    memcpy(later, migrations, (size_t)migration_count * sizeof *later);
    later[migration_count] = (struct migration){
        migration_count + 1, "9999_ponds", step,
        "0000000000000000000000000000000000000000000000000000000000000000", NULL};
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    return ledger_open_at(&setup, later, migration_count + 1, &bench->ledger, &is_new, &bench->err);
}

/* Where the copy goes that is made before the later program's step. */
static const char *copy_before_later(const struct bench *bench)
{
    char name[64];
    snprintf(name, sizeof name, "ledger.db.before-v%d", migration_count + 1);
    return bench_file(bench, name);
}

/* Released steps are never edited; whoever adds one adds its checksum here. */
static void released_steps_are_what_they_were(void **state)
{
    static const char *const checksums[] = {
        "0dbbdc0361ded083b6ea2cd8ce5b26afcfc74b6e69594dfc9ef7ac405d5a086a",
    };
    (void)state;
    assert_int_equal(migration_count, sizeof checksums / sizeof *checksums);
    for (int i = 0; i < migration_count; i++) {
        assert_int_equal(migrations[i].version, i + 1);
        assert_string_equal(migrations[i].checksum, checksums[i]);
    }
}

static void each_step_leaves_an_audit_row(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM migration WHERE version = 1 AND "
                                      "name = '0001_ledger' AND program <> '' AND at_ms > 0"),
                     1);
}

static void an_older_ledger_is_copied_and_upgraded(void **state)
{
    struct bench *bench = *state;
    bench_open(bench);
    bench_stock(bench);
    bench_close(bench);
    assert_ok(open_later(bench, later_step), &bench->err);
    assert_int_equal(bench_ask(bench, "PRAGMA user_version"), migration_count + 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM pond"), 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM migration"), migration_count + 1);
    bench_close(bench);

    char upgraded[sizeof bench->path];
    memcpy(upgraded, bench->path, sizeof upgraded);
    snprintf(bench->path, sizeof bench->path, "%s", copy_before_later(bench));
    bench_open(bench); /* the copy is a ledger of the old layout */
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM spawning"), 1);
    bench_close(bench);
    memcpy(bench->path, upgraded, sizeof upgraded);
}

static void a_failing_step_changes_nothing(void **state)
{
    struct bench *bench = *state;
    size_t before;
    size_t after;
    bench_open(bench);
    bench_stock(bench);
    bench_close(bench);
    char *bytes_before = bench_bytes(bench->path, &before);
    assert_says(open_later(bench, failing_step), &bench->err, "already exists");
    char *bytes_after = bench_bytes(bench->path, &after);
    assert_int_equal(after, before);
    assert_memory_equal(bytes_after, bytes_before, before);
    free(bytes_before);
    free(bytes_after);
    bench_open(bench);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM migration"), migration_count);
}

static void a_newer_ledger_is_refused_with_both_layouts(void **state)
{
    struct bench *bench = *state;
    bool is_new;
    char expected[80];
    snprintf(expected, sizeof expected, "has layout %d, this program reads layouts up to %d",
             migration_count + 1, migration_count);
    assert_ok(open_later(bench, later_step), &bench->err);
    bench_close(bench);
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    assert_says(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err, expected);
}

static void an_earlier_copy_is_not_overwritten(void **state)
{
    struct bench *bench = *state;
    size_t size;
    bench_open(bench);
    bench_close(bench);
    bench_write(copy_before_later(bench), "mine", 4);
    assert_ok(open_later(bench, later_step), &bench->err);
    char *bytes = bench_bytes(copy_before_later(bench), &size);
    assert_int_equal(size, 4);
    free(bytes);
    char second[256];
    snprintf(second, sizeof second, "%s.2", copy_before_later(bench));
    assert_true(bench_exists(second));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(released_steps_are_what_they_were),
        on_empty_bench(each_step_leaves_an_audit_row),
        on_empty_bench(an_older_ledger_is_copied_and_upgraded),
        on_empty_bench(a_failing_step_changes_nothing),
        on_empty_bench(a_newer_ledger_is_refused_with_both_layouts),
        on_empty_bench(an_earlier_copy_is_not_overwritten),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
