#include "senbetsu/ui/grid.h"
#include "support/test.h"

static struct grid grid;
static struct text text;

static int set_up(void **state)
{
    (void)state;
    grid_init(&grid, 3, 10);
    text_init(&text);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    grid_done(&grid);
    text_done(&text);
    return 0;
}

static void assert_grid(const char *expected)
{
    text_clear(&text);
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
}

static enum style style_at(int row, int column)
{
    return grid.cells[row * grid.columns + column].style;
}

static void test_puts_text(void **state)
{
    (void)state;
    assert_int_equal(grid_put(&grid, 0, 2, -1, STYLE_STRONG, "carp"), 4);
    assert_int_equal(grid_putf(&grid, 2, 0, -1, STYLE_PLAIN, "%d of %d", 3, 60), 7);
    assert_grid("  carp\n\n3 of 60\n");
    assert_int_equal(style_at(0, 1), STYLE_PLAIN);
    assert_int_equal(style_at(0, 2), STYLE_STRONG);
    grid_clear(&grid);
    assert_grid("\n\n\n");
}

static void test_cuts_with_an_ellipsis(void **state)
{
    (void)state;
    assert_int_equal(grid_put(&grid, 0, 5, -1, STYLE_PLAIN, "12345"), 5);
    assert_int_equal(grid_put(&grid, 1, 5, -1, STYLE_PLAIN, "123456"), 5);
    assert_int_equal(grid_put(&grid, 2, 1, 3, STYLE_PLAIN, "abcd"), 3);
    assert_grid("     12345\n     1234…\n ab…\n");
    assert_int_equal(grid_put(&grid, 0, 0, 0, STYLE_PLAIN, "x"), 0);
}

static void test_outside_draws_nothing(void **state)
{
    (void)state;
    grid_put(&grid, -1, 0, -1, STYLE_PLAIN, "above");
    grid_put(&grid, 3, 0, -1, STYLE_PLAIN, "below");
    grid_put(&grid, 0, 10, -1, STYLE_PLAIN, "right");
    grid_put(&grid, 1, -2, -1, STYLE_PLAIN, "left");
    assert_grid("\nft\n\n");
}

static void test_wide_characters_take_two_columns(void **state)
{
    (void)state;
    assert_int_equal(grid_put(&grid, 0, 0, -1, STYLE_HOLD, "白地"), 4);
    assert_string_equal(grid.cells[1].glyph, "");
    assert_int_equal(style_at(0, 1), STYLE_HOLD);
    assert_int_equal(grid_put(&grid, 1, 7, -1, STYLE_PLAIN, "白地"), 3);
    assert_grid("白地\n       白…\n\n");
}

static void test_half_a_wide_character_takes_the_other_along(void **state)
{
    (void)state;
    grid_put(&grid, 0, 0, -1, STYLE_PLAIN, "白地");
    grid_put(&grid, 0, 1, -1, STYLE_PLAIN, "x");
    assert_grid(" x地\n\n\n");
    grid_put(&grid, 0, 2, -1, STYLE_PLAIN, "y");
    assert_grid(" xy\n\n\n");
}

static void test_marks_join_the_character_before(void **state)
{
    (void)state;
    assert_int_equal(grid_put(&grid, 0, 0, -1, STYLE_PLAIN, "e\xcc\x81x"), 2);
    assert_string_equal(grid.cells[0].glyph, "e\xcc\x81");
    grid_put(&grid, 1, 0, -1, STYLE_PLAIN, "\xcc\x81x");
    assert_string_equal(grid.cells[grid.columns].glyph, "x");
}

static void test_many_marks_do_not_overflow(void **state)
{
    (void)state;
    char marked[64] = "e";
    for (int i = 0; i < 12; i++)
        strcat(marked, "\xcc\x81");
    assert_int_equal(grid_put(&grid, 0, 0, -1, STYLE_PLAIN, marked), 1);
    assert_true(strlen(grid.cells[0].glyph) < CELL_GLYPH_SIZE);
}

static void test_unprintable_becomes_a_question_mark(void **state)
{
    (void)state;
    grid_put(&grid, 0, 0, -1, STYLE_PLAIN, "a\tb\033\x7f\xff\xE2\x80\x8F");
    assert_grid("a b????\n\n\n");
}

static void test_puts_right(void **state)
{
    (void)state;
    assert_int_equal(grid_put_right(&grid, 0, 10, -1, STYLE_PLAIN, "08:41"), 5);
    assert_int_equal(grid_put_right(&grid, 1, 10, 3, STYLE_PLAIN, "08:41"), 3);
    assert_grid("     08:41\n       08…\n\n");
}

static void test_rules_and_fills(void **state)
{
    (void)state;
    grid_rule(&grid, 0, 2, 3);
    grid_put(&grid, 1, 0, -1, STYLE_PLAIN, "0123456789");
    grid_fill(&grid, (struct area){1, 2, 1, 3}, STYLE_KEEP);
    assert_grid("  ───\n01   56789\n\n");
    assert_int_equal(style_at(1, 2), STYLE_KEEP);
    assert_int_equal(style_at(1, 5), STYLE_PLAIN);
}

static void assert_fit(const char *label, int columns, const char *expected)
{
    char fitted[LABEL_TEXT_SIZE];
    assert_string_equal(label_fit(label, columns, fitted), expected);
}

static void test_drops_the_gloss_where_it_does_not_fit(void **state)
{
    (void)state;
    assert_fit("Head pattern", 4, "Head pattern");
    assert_fit("White ground (shiroji)", 22, "White ground (shiroji)");
    assert_fit("White ground (shiroji)", 21, "White ground");
    assert_fit("白地 (shiroji)", 13, "白地");
}

static void test_keeps_what_is_no_gloss(void **state)
{
    (void)state;
    assert_fit("(shiroji)", 3, "(shiroji)");
    assert_fit("White (all) ground", 3, "White (all) ground");
    assert_fit("", 3, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_puts_text, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_cuts_with_an_ellipsis, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_outside_draws_nothing, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_wide_characters_take_two_columns, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_half_a_wide_character_takes_the_other_along, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(test_marks_join_the_character_before, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_many_marks_do_not_overflow, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_unprintable_becomes_a_question_mark, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(test_puts_right, set_up, tear_down),
        cmocka_unit_test_setup_teardown(test_rules_and_fills, set_up, tear_down),
        cmocka_unit_test(test_drops_the_gloss_where_it_does_not_fit),
        cmocka_unit_test(test_keeps_what_is_no_gloss),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
