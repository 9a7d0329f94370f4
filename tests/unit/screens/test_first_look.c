/* The first look by its keys, on a ledger in a folder. */
#include "bench.h"
#include "senbetsu/store/round_counts.h"

static int open_look(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    app_open_first_look(&bench->app, bench->small.round.id);
    return result;
}

/* So many fish, the first of them good. */
static void look_at(struct bench *bench, int good, int all)
{
    for (int i = 0; i < all; i++)
        bench_press(bench, i < good ? "+" : "0");
}

static void test_nothing_looked_at(void **state)
{
    struct bench *bench = *state;
    assert_golden(bench, "first-look-fresh");
}

/* Three good ones among twenty, then one among six, of a weighed lot of 12,000. */
static void test_a_poor_dish(void **state)
{
    struct bench *bench = *state;
    struct round_counts counts;
    enum saved saved;
    struct err err;
    assert_ok(round_counts_get(bench->small.ledger, bench->small.round.id, &counts, &err), &err);
    counts.in = (struct count){12000, METHOD_WEIGHED, 50000};
    assert_ok(round_counts_record(bench->small.ledger, bench->small.round.id, &counts,
                                  bench->app.judge, &saved, &err),
              &err);
    look_at(bench, 3, 20);
    look_at(bench, 1, 6);
    assert_shows(bench, "Only 3 of the first 20 are good: look at 14 more.");
    assert_golden(bench, "first-look-poor");
    assert_golden_large(bench, "first-look-poor");
}

static void assert_advice(struct bench *bench, int first, int second, int all, const char *advice)
{
    look_at(bench, first, all < 20 ? all : 20);
    look_at(bench, second, all - 20);
    assert_shows(bench, advice);
    for (int i = 0; i < all; i++)
        bench_press(bench, "-");
    assert_shows(bench, "The last key is undone.");
    assert_shows(bench, "20 are still to be looked at.");
}

static void test_every_advice(void **state)
{
    struct bench *bench = *state;
    assert_advice(bench, 4, 0, 13, "It begins with 20 fish; 7 are still to be looked at.");
    assert_advice(bench, 4, 0, 20, "Only 4 of the first 20 are good: look at 20 more.");
    assert_advice(bench, 4, 3, 40, "4 and 3 good of 20 each: the lot is hardly worth culling.");
    assert_advice(bench, 4, 6, 40, "4 and then 6 of 20 are good: go on as planned.");
    assert_advice(bench, 6, 0, 20, "6 of the first 20 are good: go on as planned.");
    assert_advice(bench, 8, 0, 20, "8 of the first 20 are good: make room for more than planned.");
}

static void test_everything_else_by_number(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, ".");
    assert_golden(bench, "first-look-more");
    bench_press(bench, "7");
    assert_shows(bench, "7 does nothing here; 9 shows the keys.");
    bench_press(bench, "9");
    assert_shows(bench, "Keys: At the first look");
    bench_press(bench, "q . - +");
    assert_shows(bench, "last key   good");
    bench_press(bench, ". 0");
    assert_hides(bench, "first look, before");
}

static void test_a_wrong_key_is_named(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "z");
    assert_shows(bench, "z does nothing here; ? shows the keys.");
    bench_press(bench, "-");
    assert_true(bench->app.alert);
}

#define on_look(test) cmocka_unit_test_setup_teardown(test, open_look, bench_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_look(test_nothing_looked_at),    on_look(test_a_poor_dish),
        on_look(test_every_advice),         on_look(test_everything_else_by_number),
        on_look(test_a_wrong_key_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
