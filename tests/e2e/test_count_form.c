/* Counting by samples in the form: a published count, wrong lines, and the number taken over by a
 * tally and by a judged round. */
#include "walk.h"

/* The eggs of a published count: 7,096 by the ratio of the sums. */
static void type_eggs(struct terminal *terminal)
{
    assert_shows(terminal, "Count fish by samples");
    press(terminal, "Enter");
    terminal_type(terminal, "36/1.5+35/1.6+41/1.9");
    press(terminal, "Enter");
    terminal_type(terminal, "316.8");
    assert_shows(terminal, "7096 fish, weighed");
    assert_shows(terminal, "95 % interval 6100 to 8092 fish, cv 0.0326");
}

static void assert_exported(const struct farm *farm, const char *part)
{
    struct text rounds;
    text_init(&rounds);
    assert_int_equal(farm_run(farm, &rounds, "export", "rounds", NULL), 0);
    if (strstr(rounds.data, part) == NULL)
        fail_msg("other rows: %s", rounds.data);
    text_done(&rounds);
}

/* On the first screen it only calculates; the keypad is enough, also to go back. */
static void test_a_calculator(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "K25-1");
    press(terminal, "6");
    assert_shows(terminal, "The number of fish appears here.");
    type_eggs(terminal);
    press(terminal, "Enter 5");
    assert_shows(terminal, "5 % to either side takes 5 more samples like these");
    assert_screen(terminal, "count-form-80x24");
    press(terminal, "Enter");
    assert_shows(terminal, "That is the number; nothing was recorded.");
    press(terminal, "- - - -");
    assert_shows(terminal, "- again leaves, and nothing is saved");
    press(terminal, "-");
    assert_shows(terminal, "+ add");
    terminal_close(terminal);
}

static void test_wrong_lines_say_what_was_expected(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "K25-1");
    press(terminal, "t");
    assert_shows(terminal, "Count fish by samples");
    press(terminal, "Enter");
    terminal_type(terminal, "36:");
    press(terminal, "Enter");
    assert_shows(terminal, "Enter samples such as 36/1.5+35/1.6, or scoops such as 480+530.");
    press(terminal, "Up");
    terminal_type(terminal, "1.5g");
    assert_shows(terminal, "Only digits and \" .:/+;\" can be typed here.");
    press(terminal, "F2");
    assert_shows(terminal, "This is required.");
    terminal_type(terminal, "316.8");
    assert_shows(terminal, "no interval: a single sample does not say how much samples differ");
    press(terminal, "Up Up 3");
    assert_shows(terminal, "[scooped]");
    press(terminal, "F2");
    assert_shows(terminal, "Enter the fish of each scoop, such as 480+530");
    press(terminal, "Escape");
    assert_shows(terminal, "Esc again leaves");
    press(terminal, "Escape");
    assert_shows(terminal, "+ add");
    terminal_close(terminal);
}

/* From the tally by the keypad: asked once, then the lot has the number and its error. */
static void test_a_tally_takes_the_number_over(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    walk_to_tally(terminal, "3", "1", "");
    assert_shows(terminal, "in the lot not known");
    press(terminal, ". 4");
    type_eggs(terminal);
    press(terminal, "Enter Enter Enter");
    assert_shows(terminal, "Choose whether these fish went in or were kept, or go back.");
    press(terminal, "2 Enter");
    assert_shows(terminal, "Enter again records it: 7096 fish (standard error 3.3 %) went in.");
    press(terminal, "1 2 Enter");
    assert_shows(terminal, "Enter again records it");
    press(terminal, "Enter");
    assert_shows(terminal, "in the lot 7096 ±3.3 %");
    terminal_close(terminal);
    assert_exported(*state, ",pick,7096,weighed,0.03");
    assert_int_equal(farm_run(*state, NULL, "check", NULL), 0);
}

/* From the bowls of a judged round: scoops, all of them counted, are what was kept. */
static void test_a_judged_round_takes_it_over(void **state)
{
    struct terminal *terminal = farm_screens(*state, 24, 80, NULL);
    walk_to_round(terminal, "", "200");
    assert_shows(terminal, "t count the fish by samples");
    press(terminal, "Down Down Enter");
    assert_shows(terminal, "Count fish by samples");
    press(terminal, "3 Enter");
    terminal_type(terminal, "48+52");
    press(terminal, "Enter 2 Enter");
    assert_shows(terminal, "every scoop was counted, so the number is exact");
    press(terminal, "Enter 3 F2");
    assert_shows(terminal, "100 fish were kept. The round has no such number yet.");
    press(terminal, "F2");
    assert_shows(terminal, "+ next bowl");
    assert_shows(terminal, "100 fish were kept.");
    terminal_close(terminal);
    assert_exported(*state, ",judge,,,,100,counted,");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_calculator, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_wrong_lines_say_what_was_expected, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_tally_takes_the_number_over, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_judged_round_takes_it_over, farm_setup,
                                        farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
