/* A tag reader types fifteen digits and Enter in one burst; not one of them may become a score. Its
 * paces and the modes are tested in unit/screens/test_sheet.c; here the burst comes through a
 * terminal. The program's clock stands for it, so that the burst is one on any machine. */
#include "walk.h"

static const char tag[] = "999000000000123";

static void assert_no_score(const struct farm *farm)
{
    struct text fish;
    text_init(&fish);
    export_fish(farm, &fish);
    assert_non_null(strstr(fish.data, "999000000000123,,,,,,,,,,,,"));
    text_done(&fish);
}

static struct terminal *first_fish_with_clock_standing(const struct farm *farm)
{
    struct terminal *terminal = farm_screens_at(farm, 1794135600, true);
    walk_to_round(terminal, "", "");
    walk_to_bowl(terminal, "4");
    return terminal;
}

static void read_tag(struct terminal *terminal)
{
    char burst[32];
    snprintf(burst, sizeof burst, "%s\r", tag);
    terminal_type(terminal, burst);
}

static void test_fills_the_tag_and_scores_nothing(void **state)
{
    struct terminal *terminal = first_fish_with_clock_standing(*state);
    read_tag(terminal);
    assert_shows(terminal, "ag 999000000000123");
    assert_shows(terminal, "11 of 11 open");
    terminal_close(terminal);
    assert_no_score(*state);
}

/* The same while something else is asked for. */
static void test_in_any_mode(void **state)
{
    static const char *const modes[][2] = {
        {"l", "Length in mm: "}, {".", "What do you want to do?"},
        {"*", "Fault, by"},      {"/", "Aspect, by"},
        {"m", "Which note?"},    {"t", "Tag: "},
        {"v", "Which verdict"},  {"b", "again): "},
    };
    struct terminal *terminal = first_fish_with_clock_standing(*state);
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        press(terminal, modes[i][0]);
        assert_shows(terminal, modes[i][1]);
        read_tag(terminal);
        assert_shows(terminal, "ag 999000000000123");
        press(terminal, "Escape");
        assert_shows(terminal, "▸ B O D Y   O U T L I N E");
        press(terminal, "-");
        assert_hides(terminal, "tag 999000000000123");
    }
    read_tag(terminal);
    assert_shows(terminal, "11 of 11 open");
    assert_shows(terminal, "ag 999000000000123");
    terminal_close(terminal);
    assert_no_score(*state);
}

/* Two digits typed at once score both, however long the program takes for each. */
static void test_fast_fingers_score(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    terminal_type(terminal, "45");
    assert_shows(terminal, "9 of 11 open");
    assert_shows(terminal, "▸ H E A D   S H A P E");
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_fills_the_tag_and_scores_nothing, farm_setup,
                                        farm_teardown),
        cmocka_unit_test_setup_teardown(test_in_any_mode, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_fast_fingers_score, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
