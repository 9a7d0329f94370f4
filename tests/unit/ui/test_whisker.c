#include "senbetsu/ui/whisker.h"
#include "support/views.h"

static void assert_drawn(int most, struct whisker whisker, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 12);
    whisker_draw(&grid, 0, 0, 10, most, &whisker);
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
    assert_drawn(WHOLE_SHARE, (struct whisker){250000, 550000, 150000, 850000}, " ├○──●──┤");
    assert_drawn(WHOLE_SHARE, (struct whisker){NO_SHARE, 550000, 350000, 750000}, "   ├─●─┤");
    assert_drawn(WHOLE_SHARE, (struct whisker){950000, NO_SHARE, NO_SHARE, NO_SHARE}, "         ○");
    assert_drawn(WHOLE_SHARE, (struct whisker){NO_SHARE, NO_SHARE, NO_SHARE, NO_SHARE}, "");
}

static void test_what_is_expected_stands_over_what_was_counted(void **state)
{
    (void)state;
    assert_drawn(WHOLE_SHARE, (struct whisker){500000, 510000, 500000, 520000}, "     ●");
}

static void test_the_scale_holds_its_end_and_what_is_beyond(void **state)
{
    (void)state;
    assert_drawn(200000, (struct whisker){200000, 0, 0, 199999}, "●────────○");
    assert_drawn(200000, (struct whisker){WHOLE_SHARE, NO_SHARE, NO_SHARE, NO_SHARE}, "         ○");
    assert_drawn(200000, (struct whisker){NO_SHARE, 110000, 70000, 200000}, "   ├─●───┤");
    assert_drawn(200000, (struct whisker){NO_SHARE, 110000, 70000, 200001}, "   ├─●───▸");
    assert_drawn(200000, (struct whisker){19999, 20000, NO_SHARE, NO_SHARE}, "○●");
}

static void assert_scale(int most, const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 12);
    whisker_scale_draw(&grid, 0, 1, 10, most);
    text_init(&text);
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_its_ends_are_named(void **state)
{
    (void)state;
    assert_scale(400000, " 0     40 %\n");
    assert_scale(5000, " 0    0.5 %\n");
    assert_scale(300, " 0   0.03 %\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_part_has_a_character_of_its_own),
        cmocka_unit_test(test_what_is_expected_stands_over_what_was_counted),
        cmocka_unit_test(test_the_scale_holds_its_end_and_what_is_beyond),
        cmocka_unit_test(test_its_ends_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
