#include "senbetsu/ui/chart.h"
#include "support/test.h"

static void assert_drawn(double most, struct whisker whisker, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 12);
    whisker_draw(&grid, (struct area){0, 0, 1, 10}, most, &whisker);
    text_init(&text);
    grid_text(&grid, &text);
    text.data[strcspn(text.data, "\n")] = '\0';
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_each_part_has_a_character_of_its_own(void **state)
{
    (void)state;
    assert_drawn(1.0, (struct whisker){0.25, 0.55, 0.15, 0.85}, " ├○──●──┤");
    assert_drawn(1.0, (struct whisker){NO_SHARE, 0.55, 0.35, 0.75}, "   ├─●─┤");
    assert_drawn(1.0, (struct whisker){0.95, NO_SHARE, NO_SHARE, NO_SHARE}, "         ○");
    assert_drawn(1.0, (struct whisker){NO_SHARE, NO_SHARE, NO_SHARE, NO_SHARE}, "");
}

static void test_what_is_expected_stands_over_what_was_counted(void **state)
{
    (void)state;
    assert_drawn(1.0, (struct whisker){0.5, 0.51, 0.5, 0.52}, "     ●");
}

static void test_the_scale_holds_its_end_and_what_is_beyond(void **state)
{
    (void)state;
    assert_drawn(0.2, (struct whisker){0.2, 0, 0, 0.199999}, "●────────○");
    assert_drawn(0.2, (struct whisker){1.0, NO_SHARE, NO_SHARE, NO_SHARE}, "         ○");
    assert_drawn(0.2, (struct whisker){NO_SHARE, 0.11, 0.07, 0.2}, "   ├─●───┤");
    assert_drawn(0.2, (struct whisker){NO_SHARE, 0.11, 0.07, 0.200001}, "   ├─●───▸");
    assert_drawn(0.2, (struct whisker){0.019999, 0.02, NO_SHARE, NO_SHARE}, "○●");
}

static void assert_scale(double most, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 12);
    whisker_scale_draw(&grid, (struct area){0, 1, 1, 10}, most);
    text_init(&text);
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_its_ends_are_named(void **state)
{
    (void)state;
    assert_scale(0.4, " 0     40 %\n");
    assert_scale(0.005, " 0    0.5 %\n");
    assert_scale(0.0003, " 0   0.03 %\n");
}

static void assert_bar(double low, double high, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 14);
    bar_draw(&grid, (struct area){0, 0, 1, 14}, low, high);
    text_init(&text);
    grid_text(&grid, &text);
    text.data[strcspn(text.data, "\n")] = '\0';
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

/* Fourteen cells; one counts where its middle is reached. */
static void test_bars_are_filled_by_halves_of_a_cell(void **state)
{
    (void)state;
    assert_bar(0, 0, "··············");
    assert_bar(0.035, 0.035, "█·············");
    assert_bar(0.034, 0.107, "▒▒············");
    assert_bar(0.5, 0.5, "███████·······");
    assert_bar(0.963, 0.964, "█████████████▒");
    assert_bar(1.036, 1.2, "██████████████");
}

static void test_a_scale_ends_at_1_2_or_5(void **state)
{
    (void)state;
    assert_true(chart_scale(0) == 0.0001);
    assert_true(chart_scale(0.0032) == 0.005);
    assert_true(chart_scale(0.02) == 0.02);
    assert_true(chart_scale(0.201) == 0.5);
    assert_true(chart_scale(1.1) == 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_part_has_a_character_of_its_own),
        cmocka_unit_test(test_what_is_expected_stands_over_what_was_counted),
        cmocka_unit_test(test_the_scale_holds_its_end_and_what_is_beyond),
        cmocka_unit_test(test_its_ends_are_named),
        cmocka_unit_test(test_bars_are_filled_by_halves_of_a_cell),
        cmocka_unit_test(test_a_scale_ends_at_1_2_or_5),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
