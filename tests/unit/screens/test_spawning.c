#include "bench.h"

static int setup(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK1,,second,2026-08-01,pick,90,40\n"
                      "K1,north,third,2026-08-20,pick,40,12\n");
    app_open_spawning(&bench->app, "K1");
    return result;
}

static void test_rounds_are_drawn(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down");
    assert_golden(bench, "spawning");
    assert_golden_large(bench, "spawning");
}

static void test_the_last_line_begins_a_round(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "End Up Enter");
    assert_shows(bench, "Which cull");
    bench_press(bench, "Esc 5");
    assert_shows(bench, "Select a round first, or begin one with +.");
}

/* A tally has no pass and no list. */
static void test_what_only_judged_fish_have(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down 5");
    assert_shows(bench, "The fish of this round are tallied, not judged one by one.");
    bench_press(bench, "6");
    assert_shows(bench, "The fish of this round are tallied, not judged one by one.");
    bench_press(bench, "Up 6");
    assert_shows(bench, "The cull list");
}

/* The cursor stays on its round, and goes from the last line to the round that was begun. */
static void test_the_cursor_stays_on_its_round(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down");
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK1,,black,2026-07-01,pick,500,90\n");
    bench_wait(bench);
    assert_shows(bench, " > second");
    bench_press(bench, "End Up");
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK1,,fourth,2026-09-01,pick,90,40\n");
    bench_wait(bench);
    assert_shows(bench, " > fourth");
}

static void test_a_lot_has_its_own_rounds(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_spawnings, "spawning,season,variety\nK2,2026,Plain\n");
    bench_import_text(bench, import_lots,
                      "spawning,lot,date,event,number,how,into_spawning,into_lot\n"
                      "K1,north,2026-09-01,transfer,10,counted,K1;K2,barn\n");
    bench_press(bench, "/ Down Enter");
    assert_shows(bench, "north: Plain  lot of K1");
    assert_shows(bench, "third ");
    assert_hides(bench, "third north");
    bench_press(bench, "q Down Enter");
    assert_shows(bench, "barn: Plain  mixed from K1;K2");
    assert_shows(bench, "+ begin a round");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_rounds_are_drawn, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_the_last_line_begins_a_round, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_what_only_judged_fish_have, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_the_cursor_stays_on_its_round, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_lot_has_its_own_rounds, setup, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
