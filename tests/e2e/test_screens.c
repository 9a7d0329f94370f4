/* The screens as they look: small and large, with colours and without, in any locale, on any
 * terminal. Pictures lie in tests/data/terminal; a screen whose cells the unit tests pin has none
 * here, for its colours are those of the others. */
#include "walk.h"

/* A round of two bowls, one fish of the second half judged: something of everything in view. */
static struct terminal *walk_to_some_fish(const struct farm *farm, int rows, int columns,
                                          const char *const *environment)
{
    struct terminal *terminal = farm_screens(farm, rows, columns, environment);
    walk_to_round(terminal, "6", "");
    walk_to_bowl(terminal, "12");
    judge(terminal, "Enter", 1);
    judge(terminal, "s", 2);
    judge(terminal, "y Enter", 3);
    judge(terminal, "W 5 Enter", 4);
    press(terminal, "4 4 w");
    assert_shows(terminal, "9 of 11 open");
    return terminal;
}

static void assert_all_screens(const struct farm *farm, int rows, int columns,
                               const char *const *environment, const char *name)
{
    char picture[128];
    struct terminal *terminal = walk_to_some_fish(farm, rows, columns, environment);
    const struct {
        const char *keys, *shows, *name;
    } steps[] = {
        {"", "9 of 11 open", "sheet"},
        {".", "What do you want to do?", NULL},
        {"- q", "whole round", NULL},
        {"5", "pass of the harvest cull", "pass"},
        {"q 6", "take out 1, look again 1", "list"},
        {"q q", "K25-1: Kikusui", NULL},
        {"q", "seasons and spawnings", "home"},
        {"?", "Keys:", NULL},
    };
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        press(terminal, steps[i].keys);
        assert_shows(terminal, steps[i].shows);
        if (steps[i].name == NULL)
            continue;
        snprintf(picture, sizeof picture, "%s-%s", steps[i].name, name);
        assert_screen(terminal, picture);
    }
    terminal_close(terminal);
}

static void test_80_by_24(void **state)
{
    assert_all_screens(*state, 24, 80, NULL, "80x24");
}

static void test_120_by_40(void **state)
{
    assert_all_screens(*state, 40, 120, NULL, "120x40");
}

static void test_no_colour(void **state)
{
    static const char *const environment[] = {"NO_COLOR=1", NULL};
    struct terminal *terminal = walk_to_some_fish(*state, 24, 80, environment);
    assert_false(terminal_coloured(terminal));
    assert_screen(terminal, "sheet-no-colour");
    terminal_close(terminal);
}

static void test_no_colour_120_by_40(void **state)
{
    static const char *const environment[] = {"NO_COLOR=1", NULL};
    struct terminal *terminal = walk_to_some_fish(*state, 40, 120, environment);
    assert_false(terminal_coloured(terminal));
    assert_screen(terminal, "sheet-no-colour-120x40");
    terminal_close(terminal);
}

static void test_monochrome_terminal(void **state)
{
    static const char *const environment[] = {"TERM=vt100", NULL};
    struct terminal *terminal = walk_to_some_fish(*state, 24, 80, environment);
    assert_false(terminal_coloured(terminal));
    assert_screen(terminal, "sheet-vt100");
    terminal_close(terminal);
}

/* A terminal that can only write one line after another: everything can still be read and done. */
static void test_dumb_terminal(void **state)
{
    static const char *const environment[] = {"TERM=dumb", NULL};
    struct terminal *terminal = farm_screens(*state, 24, 80, environment);
    assert_shows(terminal, "K25-1");
    press(terminal, "j Enter");
    assert_shows(terminal, "K25-1: Kikusui");
    assert_null(memchr(terminal_output(terminal)->data, '\033', terminal_output(terminal)->length));
    press(terminal, "q q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
}

static void test_c_locale(void **state)
{
    static const char *const environment[] = {"LC_ALL=C", NULL};
    struct terminal *terminal = farm_screens(*state, 24, 80, environment);
    walk_to_round(terminal, "", "");
    walk_to_bowl(terminal, "12");
    judge(terminal, "Enter", 1);
    assert_shows(terminal, "50.0 points");
    const struct text *output = terminal_output(terminal);
    for (size_t i = 0; i < output->length; i++)
        assert_true((unsigned char)output->data[i] < 0x80);
    assert_screen(terminal, "sheet-c-locale");
    terminal_close(terminal);
}

static void test_unknown_terminal(void **state)
{
    static const char *const environment[] = {"TERM=no-such-terminal", NULL};
    struct terminal *terminal = farm_screens(*state, 24, 80, environment);
    assert_int_equal(terminal_status(terminal), 1);
    assert_shows(terminal, "no-such-terminal");
    terminal_close(terminal);
}

/* Smaller than can be used: it says so, keys do nothing, and all is there when it grows again. */
static void test_resize(void **state)
{
    struct terminal *terminal = walk_to_first_fish(*state, "4");
    press(terminal, "4");
    assert_shows(terminal, "10 of 11 open");
    terminal_resize(terminal, 20, 60);
    assert_shows(terminal, "80");
    assert_hides(terminal, "10 of 11 open");
    press(terminal, "s Enter");
    terminal_resize(terminal, 40, 120);
    assert_shows(terminal, "10 of 11 open");
    assert_shows(terminal, "0 of 4");
    press(terminal, "Enter");
    assert_shows(terminal, "1 of 4");
    terminal_resize(terminal, 24, 80);
    assert_shows(terminal, "1 of 4");
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_80_by_24, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_120_by_40, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_no_colour, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_no_colour_120_by_40, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_monochrome_terminal, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_dumb_terminal, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_c_locale, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_unknown_terminal, farm_setup, farm_teardown),
        cmocka_unit_test_setup_teardown(test_resize, farm_setup, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
