#include "senbetsu/ui/notice.h"
#include "support/test.h"

static void assert_notice(int rows, int columns, bool too_small)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, rows, columns);
    text_init(&text);
    assert_int_equal(notice_too_small(&grid), too_small);
    grid_text(&grid, &text);
    assert_int_equal(strstr(text.data, "80 × 24") != NULL, too_small);
    assert_int_equal(strstr(text.data, "Nothing is lost.") != NULL, too_small);
    text_done(&text);
    grid_done(&grid);
}

static void test_says_so_below_the_least_size(void **state)
{
    (void)state;
    assert_notice(24, 80, false);
    assert_notice(23, 80, true);
    assert_notice(24, 79, true);
    assert_notice(5, 20, true);
}

static void test_survives_any_size(void **state)
{
    (void)state;
    for (int size = 0; size < 5; size++) {
        struct grid grid;
        grid_init(&grid, size, size);
        assert_true(notice_too_small(&grid));
        grid_done(&grid);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_says_so_below_the_least_size),
        cmocka_unit_test(test_survives_any_size),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
