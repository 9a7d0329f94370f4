#include "scene.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/ui/big.h"
#include "support/test.h"

static bool has_shape(const char letter[2])
{
    struct grid grid;
    bool drawn = false;
    grid_init(&grid, BIG_ROWS, BIG_COLUMNS);
    big_draw(&grid, 0, 0, 1, STYLE_PLAIN, letter);
    for (int i = 0; i < BIG_ROWS * BIG_COLUMNS; i++)
        drawn = drawn || strcmp(grid.cells[i].glyph, " ") != 0;
    grid_done(&grid);
    return drawn;
}

static void test_has_all_that_is_needed(void **state)
{
    (void)state;
    for (char digit = '0'; digit <= '9'; digit++)
        assert_true(has_shape((char[]){digit, '\0'}));
    for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
        assert_true(verdict == VERDICT_OPEN || has_shape(verdict_marks[verdict].letter));
    assert_false(has_shape("x"));
}

static void test_width(void **state)
{
    (void)state;
    assert_int_equal(big_width("", 1), 0);
    assert_int_equal(big_width("7", 1), 4);
    assert_int_equal(big_width("17", 1), 9);
    assert_int_equal(big_width("17", 2), 18);
}

static void test_shapes(void **state)
{
    (void)state;
    struct grid grid;
    grid_init(&grid, BIG_ROWS, 76);
    big_draw(&grid, 0, 0, 1, STYLE_PLAIN, "0123456789KHR");
    assert_screen(&grid, "large-letters");
    grid_done(&grid);
}

/* Every shape is told apart from every other by more than one cell. */
static void test_shapes_differ(void **state)
{
    static const char all[] = "0123456789KHR";
    (void)state;
    struct grid grid;
    grid_init(&grid, BIG_ROWS, (int)sizeof all * (BIG_COLUMNS + BIG_GAP));
    big_draw(&grid, 0, 0, 1, STYLE_PLAIN, all);
    for (size_t a = 0; all[a] != '\0'; a++) {
        for (size_t b = a + 1; all[b] != '\0'; b++) {
            int differing = 0;
            for (int i = 0; i < BIG_ROWS * BIG_COLUMNS; i++) {
                int row = i / BIG_COLUMNS * grid.columns + i % BIG_COLUMNS;
                differing += strcmp(grid.cells[row + (int)a * (BIG_COLUMNS + BIG_GAP)].glyph,
                                    grid.cells[row + (int)b * (BIG_COLUMNS + BIG_GAP)].glyph) != 0;
            }
            if (differing < 2)
                fail_msg("%c and %c differ in %d cells", all[a], all[b], differing);
        }
    }
    grid_done(&grid);
}

static void test_scales(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    grid_init(&grid, 10, 13);
    text_init(&text);
    big_draw(&grid, 0, 0, 2, STYLE_STRONG, "1");
    grid_text(&grid, &text);
    assert_string_equal(text.data, "    ██\n  ████\n    ██\n    ██\n    ██\n  ██████\n\n\n\n\n");
    assert_int_equal(grid.cells[4].style, STYLE_STRONG);
    text_done(&text);
    grid_done(&grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_has_all_that_is_needed),
        cmocka_unit_test(test_width),
        cmocka_unit_test(test_shapes),
        cmocka_unit_test(test_shapes_differ),
        cmocka_unit_test(test_scales),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
