/* The line is cut, the program is killed: on return the same fish and aspect are up. */
#include "walk.h"
#include <signal.h>

/* Leaves fish 2 of the first bowl with two aspects scored, then lets `end` end the program. */
static void assert_comes_back(const struct farm *farm, void (*end)(struct terminal *terminal))
{
    struct terminal *terminal = walk_to_first_fish(farm, "4");
    judge(terminal, "Enter", 1);
    press(terminal, "4 4");
    assert_shows(terminal, "9 of 11 open");
    assert_shows(terminal, "▸ H E A D   S H A P E");
    end(terminal);
    terminal_status(terminal);
    terminal_close(terminal);

    terminal = farm_screens(farm, 24, 80, NULL);
    assert_shows(terminal, "1 of 4");
    assert_shows(terminal, "9 of 11 open");
    assert_shows(terminal, "▸ H E A D   S H A P E");
    terminal_close(terminal);
}

static void kill_it(struct terminal *terminal)
{
    terminal_signal(terminal, SIGKILL);
}

static void test_killed(void **state)
{
    assert_comes_back(*state, kill_it);
}

static void test_line_cut(void **state)
{
    assert_comes_back(*state, terminal_hang_up);
}

static void tell_to_end(struct terminal *terminal)
{
    terminal_signal(terminal, SIGTERM);
}

static void test_told_to_end(void **state)
{
    assert_comes_back(*state, tell_to_end);
}

/* A cut line is no failure of the program's. */
static void test_ends_in_order(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    terminal_hang_up(terminal);
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
}

/* Only the hand was moved: that is kept too. */
static void test_place_of_a_hand_that_only_moved(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    judge(terminal, "Enter", 1);
    judge(terminal, "s", 2);
    press(terminal, "p p");
    assert_shows(terminal, "▸ Done.");
    press(terminal, "M");
    assert_shows(terminal, "To correct: M E T A L L I C");
    kill_it(terminal);
    terminal_close(terminal);
    terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "To correct: M E T A L L I C");
    assert_shows(terminal, "NOW KEEP 50.0");
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_killed, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_line_cut, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_told_to_end, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_ends_in_order, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_place_of_a_hand_that_only_moved, farm_setup,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
