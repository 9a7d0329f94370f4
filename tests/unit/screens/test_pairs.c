/* Pairs over the seasons, and the spawnings of one of them. */
#include "bench.h"

/* One ledger serves all tests: reading the demonstration takes its time. */
static int open(void **state)
{
    struct bench *bench = *state;
    app_pop_all(&bench->app);
    app_say(&bench->app, "%s", "");
    app_open_pairs(&bench->app);
    return 0;
}

static int setup_empty(void **state)
{
    int result = bench_setup_empty(state);
    app_open_pairs(&((struct bench *)*state)->app);
    return result;
}

static int setup_small(void **state)
{
    int result = bench_setup_empty(state);
    struct bench *bench = *state;
    bench_import_text(bench, import_parents,
                      "parent,sex,variety\nD1,f,Plain\nD2,f,Plain\nS1,m,Plain\n");
    bench_import_text(bench, import_spawnings,
                      "spawning,season,variety,dam,sires\nP1,2026,Plain,D1,S1\n");
    app_open_pairs(&bench->app);
    return result;
}

static void test_pairs_and_crosses_share_a_scale(void **state)
{
    struct bench *bench = *state;
    assert_golden(bench, "pairs");
    assert_golden_large(bench, "pairs");
}

static void test_trouble_stands_over_the_rates(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "/");
    assert_golden(bench, "pairs_trouble");
}

static void test_there_may_be_no_pair(void **state)
{
    struct bench *bench = *state;
    assert_golden(bench, "pairs_none");
    bench_press(bench, "Enter");
    assert_shows(bench, "There is no pair here; add a spawning with its dam and sires first.");
}

static void test_lines_are_sorted_by_any_column(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "▼● exp%");
    bench_press(bench, "*");
    assert_shows(bench, "▼best3");
    assert_shows(bench, " > KD1 × KS1");
    bench_press(bench, "* *");
    assert_shows(bench, "▼dam × sires");
    bench_press(bench, "Home");
    assert_shows(bench, " > KD1 × KS1 ");
}

static void test_untried_crosses_are_hidden_and_found(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "/");
    assert_shows(bench, " untried hidden");
    assert_hides(bench, "RD1 × RS3");
    bench_press(bench, "+ Enter");
    assert_shows(bench, "Sire");
    bench_press(bench, "Enter");
    assert_shows(bench, " >?KD1 × KS");
}

static void test_another_cull_is_compared(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Left");
    assert_shows(bench, "There is no further cull in that direction.");
    bench_press(bench, "Right");
    assert_shows(bench, "Pairs over the seasons: black cull");
    bench_press(bench, "Right");
    assert_shows(bench, "Pairs over the seasons: first cull");
}

static void test_the_spawnings_of_a_pair_are_drawn(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down Enter");
    assert_shows(bench, "KD2 and KS1 never spawned together, so there are no spawnings.");
    bench_press(bench, "Down Down Down Enter");
    assert_golden(bench, "pair");
    assert_golden_large(bench, "pair");
    bench_press(bench, "Enter");
    assert_shows(bench, "K25-2: Kikusui");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_pairs_and_crosses_share_a_scale, open, NULL),
        cmocka_unit_test_setup_teardown(test_trouble_stands_over_the_rates, setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_there_may_be_no_pair, setup_empty, bench_teardown),
        cmocka_unit_test_setup_teardown(test_lines_are_sorted_by_any_column, open, NULL),
        cmocka_unit_test_setup_teardown(test_untried_crosses_are_hidden_and_found, open, NULL),
        cmocka_unit_test_setup_teardown(test_another_cull_is_compared, open, NULL),
        cmocka_unit_test_setup_teardown(test_the_spawnings_of_a_pair_are_drawn, open, NULL),
    };
    return cmocka_run_group_tests(tests, bench_setup_demo, bench_teardown);
}
