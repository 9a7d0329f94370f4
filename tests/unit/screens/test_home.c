#include "bench.h"

static void test_a_new_ledger_says_the_first_steps(void **state)
{
    struct bench *bench = *state;
    assert_golden(bench, "home_empty");
    bench_press(bench, "5");
    assert_shows(bench, "There is no spawning yet; add one first.");
    bench_press(bench, "*");
    assert_shows(bench, "Select a spawning first; then change it.");
    bench_press(bench, "Enter");
    assert_shows(bench, "A new spawning");
}

static void test_seasons_are_drawn(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down");
    assert_golden(bench, "home");
    assert_golden_large(bench, "home");
}

static void test_a_spawning_takes_its_own_rounds(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK1,,second,2026-08-01,pick,90,40\n"
                      "K1,north,third,2026-08-20,pick,40,12\n");
    bench_import_text(bench, import_spawnings,
                      "spawning,season,variety,dam,sires\nS2,2026,Plain,,\n");
    assert_shows(bench, "first         ············  0 of 5");
    assert_shows(bench, "second        KKKKKRRRRRRR  90 of 90");
    assert_shows(bench, "third north   KKKRRRRRRRRR  40 of 40");
    assert_shows(bench, "S2             Plain\n           no round yet");
}

/* While a line is searched for, letters and digits are what is typed and do nothing else. */
static void test_a_spawning_is_found_as_one_types(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_spawnings,
                      "spawning,season,variety,dam,sires\nS2,2026,Plain,,\nS9,2026,Shusui,,\n");
    bench_press(bench, "#");
    bench_type(bench, "shu");
    assert_shows(bench, ">       S9");
    assert_shows(bench, "Find: shu_");
    bench_press(bench, "Enter");
    assert_shows(bench, ">       S9");
    assert_hides(bench, "Find:");
    bench_press(bench, "Enter");
    assert_shows(bench, "S9");
    assert_shows(bench, "begin a round");
}

static void test_the_last_line_adds(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "End Up Up Up Up Enter");
    assert_shows(bench, "A new spawning");
}

/* The cursor goes to what was just added, and stays there while others add theirs. */
static void test_what_was_added_is_selected(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "n");
    bench_type(bench, "K2");
    bench_press(bench, "Down");
    bench_type(bench, "2026");
    bench_press(bench, "Down");
    bench_type(bench, "Plain");
    bench_press(bench, "F2");
    assert_shows(bench, "Spawning K2 is in the ledger.");
    assert_shows(bench, " > 2026  K2");
    bench_import_text(bench, import_spawnings, "spawning,season,variety\nA1,2026,Plain\n");
    bench_wait(bench);
    assert_shows(bench, " >       K2");
    bench_press(bench, "*");
    assert_shows(bench, "Change a spawning");
}

/* Where this judge was stands above all else. */
static void test_it_goes_on_where_the_judge_was(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Enter Enter Enter");
    bench_press(bench, "5 5 5");
    bench_wait(bench);
    bench_press(bench, "q q q");
    assert_shows(bench, "go on K1 first, bowl 1, fish 2");
    bench_press(bench, "Home Enter");
    assert_shows(bench, "Body line");
}

static void test_keys_open_the_other_screens(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "/");
    assert_shows(bench, "Who judges?");
    bench_press(bench, "Esc 6");
    assert_shows(bench, "Count fish by samples");
    bench_press(bench, "Esc z");
    assert_shows(bench, "z does nothing here; ? shows the keys.");
    bench_press(bench, "?");
    assert_shows(bench, "Keys: Seasons and spawnings");
    bench_press(bench, "z q");
    assert_int_equal(bench->app.screen_count, 0);
    app_open_home(&bench->app);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_new_ledger_says_the_first_steps, bench_setup_empty,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_seasons_are_drawn, bench_setup_demo, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_spawning_takes_its_own_rounds, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_spawning_is_found_as_one_types, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_the_last_line_adds, bench_setup_small, bench_teardown),
        cmocka_unit_test_setup_teardown(test_what_was_added_is_selected, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_it_goes_on_where_the_judge_was, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_keys_open_the_other_screens, bench_setup_small,
                                        bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
