#include "senbetsu/core/judgement.h"
#include "senbetsu/screens/scale.h"
#include "support/test.h"

static void assert_scale(int lowest, int highest, int typical, int score, const char *expected)
{
    struct standard standard = {.lowest = lowest, .highest = highest, .typical = typical};
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 40);
    text_init(&text);
    int used = scale_draw(&grid, 0, 0, STYLE_PLAIN, &standard, score);
    assert_int_equal(used, scale_columns(&standard));
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_marks_score_and_typical(void **state)
{
    (void)state;
    assert_scale(1, 5, 3, SCORE_NONE, " 1  2 (3) 4  5\n");
    assert_scale(1, 5, 3, 4, " 1  2  3 [4] 5\n");
    assert_scale(1, 5, 3, 3, " 1  2 [3] 4  5\n");
    assert_scale(0, 9, 0, SCORE_NONE, "(0) 1  2  3  4  5  6  7  8  9\n");
    assert_scale(1, 10, 5, 10, " 1  2  3  4  5  6  7  8  9 [10]\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_marks_score_and_typical),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
