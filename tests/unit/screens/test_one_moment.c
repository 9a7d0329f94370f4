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

/* A screen that counts how often it is filled. */
static bool fill(struct app *app, void *state, struct err *err)
{
    (void)app, (void)err;
    ++*(int *)state;
    return true;
}

static void draw_nothing(struct app *app, void *state, struct grid *grid)
{
    (void)app, (void)state, (void)grid;
}

static void keep(void *state)
{
    (void)state;
}

static void assert_filled(struct bench *bench, const int *filled, int times)
{
    app_draw(&bench->app, &bench->grid);
    assert_int_equal(*filled, times);
}

static void test_waiting_fills_a_screen_only_where_something_was_written(void **state)
{
    static const struct screen_kind kind = {.refresh = fill, .draw = draw_nothing, .done = keep};
    struct bench *bench = *state;
    int filled = 0;
    int64_t judge;
    struct err err;
    app_push(&bench->app, &kind, &filled);
    assert_filled(bench, &filled, 1);
    for (int i = 0; i < 3; i++) {
        bench_wait(bench);
        assert_filled(bench, &filled, 1);
    }
    meddler_write(bench->small.path);
    bench_wait(bench);
    assert_filled(bench, &filled, 2);
    assert_ok(judge_named(bench->small.ledger, "Ryo", &judge, &err), &err);
    bench_wait(bench);
    assert_filled(bench, &filled, 3);
    bench_wait(bench);
    assert_filled(bench, &filled, 3);
    app_pop(&bench->app);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_home_is_of_one_moment, setup, teardown),
        cmocka_unit_test_setup_teardown(test_rates_are_of_one_moment, setup, teardown),
        cmocka_unit_test_setup_teardown(
            test_waiting_fills_a_screen_only_where_something_was_written, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
