/* A tag reader types fifteen digits and Enter in one burst; not one of them may become a score. */
#include "walk.h"

static const char tag[] = "999000000000123";

static void read_tag(struct terminal *terminal)
{
    char burst[32];
    snprintf(burst, sizeof burst, "%s\r", tag);
    terminal_type(terminal, burst);
}

static void assert_no_score(const struct farm *farm)
{
    struct text fish;
    text_init(&fish);
    export_fish(farm, &fish);
    assert_non_null(strstr(fish.data, "999000000000123,,,,,,,,,,,,"));
    text_done(&fish);
}

static void test_fills_the_tag_and_scores_nothing(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    read_tag(terminal);
    assert_shows(terminal, "tag 999000000000123");
    assert_shows(terminal, "11 of 11 open");
    terminal_close(terminal);
    assert_no_score(*state);
}

/* The same while a length is being typed, in the keypad's menu and while a fault is picked. */
static void test_in_any_mode(void **state)
{
    static const char *const modes[][2] = {
        {"l 1 2", "Length in mm: 12"}, {".", "What is to be done?"}, {"*", "Fault, by"},
        {"/", "Aspect, by"},           {"m", "Which note?"},         {"t", "Tag: "},
        {"v", "Which verdict"},        {"b 1 2", "again): 12"},
    };
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        press(terminal, modes[i][0]);
        assert_shows(terminal, modes[i][1]);
        read_tag(terminal);
        assert_shows(terminal, "tag 999000000000123");
        press(terminal, "Escape");
        assert_shows(terminal, "▸ Body outline");
        press(terminal, "-");
        assert_hides(terminal, "tag 999000000000123");
    }
    read_tag(terminal);
    assert_shows(terminal, "11 of 11 open");
    assert_shows(terminal, "tag 999000000000123");
    terminal_close(terminal);
    assert_no_score(*state);
}

/* A hand that types two digits fast still scores both. */
static void test_a_fast_hand_scores(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    terminal_type(terminal, "45");
    assert_shows(terminal, "9 of 11 open");
    assert_shows(terminal, "▸ Head shape");
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_fills_the_tag_and_scores_nothing, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_in_any_mode, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_a_fast_hand_scores, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
