/* A first look typed through the real screens: from a tally and from the bowls of a judged round,
 * killed in the middle, taken back, and told on the screens and on paper. */
#include "walk.h"
#include <signal.h>

/* Told in the season book of 2025. */
static void assert_in_the_book(const struct farm *farm, const char *part)
{
    struct text said;
    text_init(&said);
    assert_int_equal(farm_run(farm, &said, "season", "--year", "2025", NULL), 0);
    if (strstr(said.data, part) == NULL)
        fail_msg("the book says: %s", said.data);
    text_done(&said);
}

/* Four good of twenty, and then three of twenty: with the number pad alone. */
static void test_a_poor_lot_on_the_keypad(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    walk_to_tally(terminal, "3", "1", "1000");
    press(terminal, ". 3");
    assert_shows(terminal, "K25-1: first look, before the second cull");
    press(terminal, "+ + 0 Enter 0 + 0 0 0 0 +");
    assert_shows(terminal, "0 not good 6");
    press(terminal, "-");
    assert_shows(terminal, "The last key is undone.");
    assert_shows(terminal, "0 not good 6");
    terminal_signal(terminal, SIGKILL);
    assert_int_equal(terminal_status(terminal), 128 + SIGKILL);
    terminal_close(terminal);

    terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "10 are still to be looked at.");
    press(terminal, "0 0 0 0 0 0 0 0 0 0");
    assert_shows(terminal, "Only 4 of the first 20 are good: look at 20 more.");
    assert_shows(terminal, "8.1 to 41.6 %");
    assert_shows(terminal, "81 to 416");
    press(terminal, "+ + + 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0");
    assert_shows(terminal, "4 and 3 good of 20 each: the lot is hardly worth culling.");
    press(terminal, ". -");
    assert_shows(terminal, "+ good  0 not good");
    press(terminal, ". 0");
    assert_shows(terminal, "a key is a FISH");
    assert_shows(terminal, "tallied    0");
    press(terminal, "q");
    assert_shows(terminal, "first look: 7 of 40 good, 17.5 % (8.7 to 31.9 %)");
    terminal_close(terminal);
    assert_in_the_book(*state, "first look: 7 of 40 good, 17.5 % (8.7 to 31.9 %)");
    assert_int_equal(farm_run(*state, NULL, "check", NULL), 0);
}

/* From the bowls by the list's own line; a session that ends in the look comes back to it, and the
 * round below is the one it was. */
static void test_a_judged_round_is_looked_at_first(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    walk_to_round(terminal, "", "200");
    assert_shows(terminal, "g first look at the lot");
    press(terminal, "Down Enter");
    assert_shows(terminal, "K25-1: first look, before the harvest cull");
    press(terminal, "g n n Space");
    assert_shows(terminal, "15.0 to 85.0 %");
    assert_shows(terminal, "in the lot 200");
    terminal_hang_up(terminal);
    terminal_status(terminal);
    terminal_close(terminal);

    terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "16 are still to be looked at.");
    press(terminal, "z");
    assert_shows(terminal, "z does nothing here; ? shows the keys.");
    press(terminal, "?");
    assert_shows(terminal, "Keys: At the first look");
    press(terminal, "x u");
    assert_shows(terminal, "The last key is undone.");
    press(terminal, "q");
    assert_shows(terminal, "g first look at the lot: 1 of 3 good, 33.3 % (6.1 to 79.2 %)");
    press(terminal, "g");
    assert_shows(terminal, "17 are still to be looked at.");
    press(terminal, "q");
    assert_shows(terminal, "+ next bowl");
    terminal_close(terminal);
}

/* Where nobody says how many fish go into the round, the cull before does; who died since, nobody
 * saw. */
static void test_the_number_by_the_book(void **state)
{
    char path[160];
    farm_file(*state, "rounds.csv",
              "spawning,stage,manner,date,in,kept,kept_how,kept_cv\n"
              "K25-1,first,pick,2025-07-01,9000,2000,weighed,0.05\n",
              path, sizeof path);
    assert_int_equal(farm_run(*state, NULL, "import", "rounds", path, NULL), 0);
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    walk_to_tally(terminal, "3", "1", "");
    assert_shows(terminal, "by book    about 2000");
    press(terminal, "g + 0");
    assert_shows(terminal, "in the lot about 2000");
    assert_shows(terminal, "9.5 to 90.5 %");
    terminal_close(terminal);
    remove(path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_poor_lot_on_the_keypad, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_the_number_by_the_book, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_judged_round_is_looked_at_first, farm_setup,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
