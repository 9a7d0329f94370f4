#include "bench.h"

/* Five fish of bowl 1: 100, 75, 50, 0 and 33.3 points; kept from 65, held from 55. */
static int setup(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    app_open_sheet(&bench->app, bench->small.bowl.id, NULL);
    bench_press(bench, "5 5 4 4 3 3 1 1 2 3");
    bench_wait(bench);
    bench_press(bench, "q");
    app_open_pass(&bench->app, bench->small.round.id);
    return result;
}

static void test_keys_turn_the_chosen_dial(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "keep from <65>");
    bench_press(bench, "+");
    assert_shows(bench, "keep from <65.5>");
    bench_press(bench, "/");
    assert_shows(bench, "keep from <60.5>");
    bench_press(bench, "Right -");
    assert_shows(bench, "hold from <54.5>");
    bench_press(bench, "Right +");
    assert_shows(bench, "places <0>");
    bench_press(bench, "Right");
    assert_shows(bench, "keep from <60.5>");
    bench_press(bench, "4 -");
    assert_shows(bench, "places <no limit>");
}

static void test_only_those_that_change_side(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "no fish changes sides");
    bench_press(bench, "/ / /");
    assert_shows(bench, "1 changes sides:  1-3 R>K");
    bench_press(bench, "c");
    assert_hides(bench, "1-1");
    assert_shows(bench, "1-3");
    bench_press(bench, "c");
    assert_shows(bench, "1-1");
}

/* Nothing is recorded by a single Enter; any other key takes the question back and does no more. */
static void test_it_asks_before_it_records(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Enter");
    assert_shows(bench, "Enter again records the pass; any other key goes back.");
    bench_press(bench, "q");
    assert_shows(bench, "Nothing was recorded.");
    bench_press(bench, "/ Enter");
    assert_shows(bench, "Enter again records the pass and the new thresholds");
    bench_press(bench, "Enter");
    assert_shows(bench, "The pass is recorded: 2 keep, 0 hold, 3 reject.");
}

/* Somebody else sees a fault on a fish of bowl 1. */
static void see_fault(struct bench *bench, int fish)
{
    char file[160];
    snprintf(file, sizeof file,
             "spawning,stage,bowl,fish,judge,date,faults\nK1,first,1,%d,Ines,2026-07-18,spine\n",
             fish);
    take_text(&bench->small, import_fish, file, 0, 1, 0);
}

static void test_what_the_ledger_holds_is_decided(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Enter");
    see_fault(bench, 1);
    bench_press(bench, "Enter");
    assert_shows(bench, "Nothing was recorded: fish were judged meanwhile.");
    assert_shows(bench, "Bent spine");
    bench_press(bench, "Enter Enter");
    assert_shows(bench, "The pass is recorded: 1 keep, 0 hold, 4 reject.");
}

static void test_it_says_when_it_is_out_of_date(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Enter Enter");
    app_open_round(&bench->app, bench->small.round.id);
    assert_shows(bench, "as the pass decided");
    see_fault(bench, 1);
    bench_press(bench, "q");
    app_open_round(&bench->app, bench->small.round.id);
    assert_shows(bench, "The pass is out of date: 1 fish judged since. 5 passes again.");
    bench_press(bench, "5");
    assert_shows(bench, "pass of the first cull, again");
    assert_shows(bench, "The pass is out of date: 1 fish judged since. Enter passes again.");
    bench_press(bench, "Enter Enter");
    assert_shows(bench, "as the pass decided");
}

static void test_it_is_left_without_a_trace(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "+ + q");
    assert_hides(bench, "keep from");
    app_open_pass(&bench->app, bench->small.round.id);
    assert_shows(bench, "keep from <65>");
}

static void test_it_is_drawn(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "q");
    app_open_sheet(&bench->app, bench->small.bowl.id, NULL);
    bench_press(bench, "p p *  1 n . 7 1 0");
    bench_wait(bench);
    bench_press(bench, "Esc Esc q");
    app_open_pass(&bench->app, bench->small.round.id);
    bench_press(bench, "/ / /");
    assert_golden(bench, "pass");
    assert_golden_large(bench, "pass");
    bench_press(bench, "Right Right + + Right c Enter");
    assert_golden(bench, "pass_places");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_keys_turn_the_chosen_dial, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_only_those_that_change_side, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_asks_before_it_records, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_what_the_ledger_holds_is_decided, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_says_when_it_is_out_of_date, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_is_left_without_a_trace, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_is_drawn, setup, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
