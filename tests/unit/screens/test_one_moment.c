/* What a screen shows is of one moment of the ledger, and that moment is over before a key is
 * waited for. */
#include "bench.h"
#include "support/meddler.h"

#include <sqlite3.h>

static int setup(void **state)
{
    meddler_watch();
    return bench_setup_demo(state);
}

static int teardown(void **state)
{
    meddler_stop();
    return bench_teardown(state);
}

/* Somebody else can empty the WAL: nobody holds an older view of the ledger. */
static void assert_nobody_reads(const struct bench *bench)
{
    sqlite3 *db;
    assert_int_equal(sqlite3_open(bench->small.path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_wal_checkpoint_v2(db, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

static void read_screen(struct bench *bench, struct text *ret)
{
    bench->app.stale = true;
    text_done(ret);
    bench_text(bench, ret);
    assert_nobody_reads(bench);
}

static void try_every_moment(struct bench *bench, const char *keys)
{
    struct text quiet[2], said;
    int inconsistent = 0, at = 1;
    bench_press(bench, keys);
    assert_nobody_reads(bench);
    text_init(&said);
    for (int i = 0; i < 2; i++) {
        text_init(&quiet[i]);
        read_screen(bench, &quiet[i]);
        meddler_write(bench->small.path);
    }
    assert_string_not_equal(quiet[0].data, quiet[1].data);
    for (bool wrote = true; wrote; at += 1 + at / 4) {
        meddler_await(bench->small.path, at);
        read_screen(bench, &said);
        wrote = meddler_wrote();
        if (strcmp(said.data, quiet[0].data) != 0 && strcmp(said.data, quiet[1].data) != 0 &&
            inconsistent++ == 0)
            print_error("written into after %d statements:\n%s\n", at, said.data);
    }
    assert_int_equal(inconsistent, 0);
    for (int i = 0; i < 2; i++)
        text_done(&quiet[i]);
    text_done(&said);
}

static void test_home_is_of_one_moment(void **state)
{
    try_every_moment(*state, "Down");
}

static void test_rates_are_of_one_moment(void **state)
{
    try_every_moment(*state, "r");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_home_is_of_one_moment, setup, teardown),
        cmocka_unit_test_setup_teardown(test_rates_are_of_one_moment, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
