/* Taking keys back: as far as the bowl goes, across fish, and again after coming back. */
#include "walk.h"

static void test_goes_back_over_the_fish_before(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    judge(terminal, "Enter", 1);
    judge(terminal, "s", 2);
    press(terminal, "5");
    assert_shows(terminal, "10 of 11 open");
    press(terminal, "-");
    assert_shows(terminal, "11 of 11 open");
    assert_shows(terminal, "2 of 4");
    press(terminal, "-");
    assert_shows(terminal, "1 of 4");
    press(terminal, "u");
    assert_shows(terminal, "0 of 4");
    terminal_close(terminal);
}

static void test_after_coming_back(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    judge(terminal, "Enter", 1);
    judge(terminal, "s", 2);
    terminal_close(terminal);
    terminal = farm_screens(*state, 24, 80, NULL);
    assert_shows(terminal, "2 of 4");
    press(terminal, "-");
    assert_shows(terminal, "1 of 4");
    judge(terminal, "j", 2);
    assert_shows(terminal, "Twisted jaw");
    terminal_close(terminal);
    struct text text;
    text_init(&text);
    assert_int_equal(farm_run(*state, &text, "pass", "--spawning", "K25-1", "--stage", "harvest",
                              "--dry-run", "--csv", NULL),
                     0);
    assert_non_null(strstr(text.data, "1,2,,,reject,fault jaw"));
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_goes_back_over_the_fish_before, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_after_coming_back, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
