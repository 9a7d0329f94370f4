#include "senbetsu/ui/counter.h"
#include "support/test.h"

#include <string.h>

/* Twice as large on a large screen, where both numbers have room. */
static void numbers_are_as_large_as_they_can_be(void **state)
{
    (void)state;
    struct grid small, large;
    struct counter counters[] = {{.number = 12}, {.number = 1234}};
    grid_init(&small, 24, 80);
    grid_init(&large, 40, 120);
    assert_int_equal(counter_scale(&small, counters, 2, 80), 1);
    assert_int_equal(counter_scale(&large, counters, 2, 80), 2);
    counters[1].number = 123456789012;
    assert_int_equal(counter_scale(&large, counters, 2, 80), 1);
    assert_int_equal(counter_rows(1), 1 + BIG_ROWS);
    assert_int_equal(counter_rows(2), 1 + 2 * BIG_ROWS);
    grid_done(&small);
    grid_done(&large);
}

static void captions_and_margins_are_drawn(void **state)
{
    (void)state;
    struct grid grid;
    struct text text;
    const struct counter counter = {"+ good", STYLE_KEEP, 7, "35.0 %"};
    grid_init(&grid, 24, 80);
    grid_clear(&grid);
    struct margin margin = {&grid, 0, 80 - MARGIN_COLUMNS};
    counter_draw(&grid, 0, 1, 48, &counter);
    margin_number(&margin, "pace", 900, " fish/h");
    margin_number(&margin, "still", -1, " fish");
    assert_int_equal(margin.row, 2);
    text_init(&text);
    grid_text(&grid, &text);
    assert_non_null(strstr(
        text.data, " + good                                  35.0 %   pace       900 fish/h\n"));
    assert_non_null(strstr(text.data, "still      not known\n"));
    assert_non_null(strstr(text.data, "█"));
    text_done(&text);
    grid_done(&grid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_as_large_as_they_can_be),
        cmocka_unit_test(captions_and_margins_are_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
