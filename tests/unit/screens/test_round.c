#include "bench.h"

/* Bowl 1 of five, of which two are judged, one of them held. */
static int setup(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    app_open_sheet(&bench->app, bench->small.bowl.id, NULL);
    bench_press(bench, "5 5 4 2");
    bench_wait(bench);
    bench_press(bench, "q");
    app_open_round(&bench->app, bench->small.round.id);
    return result;
}

static void begin_bowl(struct bench *bench, int number, int fish)
{
    struct bowl bowl;
    struct err err;
    assert_ok(bowl_begin(bench->small.ledger, bench->small.round.id, number, fish, "2026-11-08",
                         &bowl, &err),
              &err);
}

static void test_bowls_are_drawn(void **state)
{
    struct bench *bench = *state;
    begin_bowl(bench, 2, 20);
    begin_bowl(bench, 3, 0);
    bench_wait(bench);
    assert_golden(bench, "round");
    assert_golden_large(bench, "round");
}

static void test_every_line_does_what_it_says(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Home Enter");
    assert_shows(bench, "Body line");
    bench_press(bench, "q Home Down Enter");
    assert_shows(bench, "The next bowl");
    bench_press(bench, "Esc Down Enter");
    assert_shows(bench, "second look");
    bench_press(bench, "q Down Enter");
    assert_shows(bench, "first look, before the first cull");
    bench_press(bench, "q Down Enter");
    assert_shows(bench, "Count fish by samples");
}

static void test_without_held_fish_there_is_no_second_look(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "H second look at the 1 held");
    bench_press(bench, "Home Enter p Up Up 1");
    bench_wait(bench);
    bench_press(bench, "q");
    assert_hides(bench, "second look at");
    bench_press(bench, "Home Down Down Enter");
    assert_shows(bench, "first look, before the first cull");
}

static void test_the_first_open_bowl_is_selected(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, " > bowl 1");
    bench_press(bench, "Enter 5 5 5 5 5 5");
    bench_wait(bench);
    bench_press(bench, "q q");
    app_open_round(&bench->app, bench->small.round.id);
    assert_shows(bench, " > + next bowl");
}

/* Also the first, and also when all its fish are judged. */
static void test_the_bowl_that_was_begun_is_selected(void **state)
{
    struct bench *bench = *state;
    app_ask_new_round(&bench->app, bench->small.round.spawning);
    bench_press(bench, "Down B F2");
    assert_shows(bench, " > + next bowl");
    bench_press(bench, "Enter 1 Enter Enter");
    bench_wait(bench);
    bench_press(bench, "q");
    assert_shows(bench, "1 of 1");
    assert_shows(bench, " > bowl 1");
}

/* A line stays selected when another sorter begins a bowl. */
static void test_a_line_is_found_again(void **state)
{
    static const struct {
        const char *keys, *selected;
    } lines[] = {
        {"Home", " > bowl 1"},
        {"End Up Up Up", " > H second look"},
        {"End Up Up", " > g first look"},
        {"End Up", " > t count the fish"},
        {"End", " > e put the round right"},
        {"End Up Up Up Up", " > + next bowl"},
    };
    struct bench *bench = *state;
    for (int i = 0; i < 6; i++) {
        bench_press(bench, lines[i].keys);
        assert_shows(bench, lines[i].selected);
        begin_bowl(bench, i + 2, 5);
        bench_wait(bench);
        assert_shows(bench, lines[i].selected);
    }
}

static void test_fish_of_the_selected_bowl_are_counted(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "End /");
    assert_shows(bench, "Select a bowl first; then enter how many fish it holds.");
    bench_press(bench, "Home /");
    assert_shows(bench, "How many fish the bowl holds");
    bench_press(bench, "7 F2");
    assert_shows(bench, "Bowl 1 holds 7 fish.");
}

static void test_names_and_settings(void **state)
{
    (void)state;
    char text[ROUND_TEXT_SIZE];
    struct round_summary line = {
        .round = {.stage = STAGE_THIRD, .manner = MANNER_JUDGE, .own_lot = true, .places = -1},
        .bowls = 1};
    assert_string_equal(round_name(&line.round, text), "third");
    assert_string_equal(round_about(&line, text), "1 bowl");
    line = (struct round_summary){.round = {.stage = STAGE_THIRD,
                                            .manner = MANNER_JUDGE,
                                            .lot = "north",
                                            .places = 0,
                                            .standard = "kikusui-third",
                                            .fate = FATE_PASSED_ON},
                                  .bowls = 3,
                                  .first_day = "2026-08-30",
                                  .last_day = "2026-08-31"};
    assert_string_equal(round_name(&line.round, text), "third north");
    assert_string_equal(round_about(&line, text),
                        "3 bowls, 2026-08-30 to 2026-08-31, 0 places, by kikusui-third, "
                        "rejects passed-on");
    line = (struct round_summary){.round = {.manner = MANNER_PICK, .places = -1}};
    assert_string_equal(round_about(&line, text), "tallied");
    line.stated = true;
    assert_string_equal(round_about(&line, text), "stated");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_names_and_settings),
        cmocka_unit_test_setup_teardown(test_bowls_are_drawn, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_every_line_does_what_it_says, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_without_held_fish_there_is_no_second_look, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_the_first_open_bowl_is_selected, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_the_bowl_that_was_begun_is_selected, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_line_is_found_again, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_fish_of_the_selected_bowl_are_counted, setup,
                                        bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
