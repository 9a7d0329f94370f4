#include "bench.h"

/* One ledger serves all tests: reading the demonstration takes its time. */
static int open(void **state)
{
    struct bench *bench = *state;
    app_pop_all(&bench->app);
    app_say(&bench->app, "%s", "");
    app_open_rates(&bench->app, 2025);
    return 0;
}

static void test_a_season_is_drawn(void **state)
{
    struct bench *bench = *state;
    assert_golden(bench, "rates");
    assert_golden_large(bench, "rates");
}

static void test_the_season_as_a_whole_stands_last(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "End");
    assert_golden(bench, "rates_last");
    bench_press(bench, "Enter");
    assert_shows(bench, "Select a spawning first.");
}

static void test_keys_lead_to_other_seasons(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Left");
    assert_shows(bench, "Season 2024");
    assert_shows(bench, "◂ 2023   2025 ▸");
    bench_press(bench, "Right Right");
    assert_shows(bench, "Season 2025");
    assert_shows(bench, "There is no further season in that direction.");
}

static void test_a_spawning_is_opened(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down Enter");
    assert_shows(bench, "K25-1: Kikusui");
    bench_press(bench, "q 5");
    assert_shows(bench, "The season book");
}

/* What cannot be is warned of; what is not known leaves its cell empty. */
static void test_doubtful_numbers_are_warned_of(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_spawnings,
                      "spawning,season,variety,eggs,hatched\nZ1,2026,Plain,1000,1200\n"
                      "Z2,2026,Plain,,25000\n");
    bench_import_text(bench, import_rounds,
                      "spawning,stage,date,manner,in,kept\nZ1,third,2026-08-01,pick,1400,1450\n");
    bench_press(bench, "Right");
    assert_shows(bench,
                 "eggs, hatched   120.0    1000    1200                          ██████████████");
    assert_shows(bench, "! more hatched than eggs: a count is wrong");
    assert_shows(bench, "third           116.7    1400    1450  103.6");
    assert_shows(bench, "! more fish than before: some were found again");
    assert_shows(bench, "eggs, hatched                   25000\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_season_is_drawn, open, NULL),
        cmocka_unit_test_setup_teardown(test_the_season_as_a_whole_stands_last, open, NULL),
        cmocka_unit_test_setup_teardown(test_keys_lead_to_other_seasons, open, NULL),
        cmocka_unit_test_setup_teardown(test_a_spawning_is_opened, open, NULL),
        cmocka_unit_test_setup_teardown(test_doubtful_numbers_are_warned_of, open, NULL),
    };
    return cmocka_run_group_tests(tests, bench_setup_demo, bench_teardown);
}
