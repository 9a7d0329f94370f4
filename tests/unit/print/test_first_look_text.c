#include "senbetsu/print/first_look_text.h"
#include "support/test.h"

/* 14 of 20, Wilson's ends worked out apart from the program, in Python, from his formula: 0.481028
 * and 0.854523; 0 of 20: 0 and 0.1611 (Newcombe 1998, Stat Med 17:857-872, Table I). */
static void a_look_has_its_interval(void **state)
{
    (void)state;
    char text[FIRST_LOOK_TEXT_SIZE];
    const struct first_look look = {.looked_at = 20, .good = 14}, none = {.looked_at = 20};
    assert_string_equal(first_look_text(&look, text), "14 of 20 good, 70.0 % (48.1 to 85.5 %)");
    assert_string_equal(first_look_text(&none, text), "0 of 20 good, 0.0 % (0.0 to 16.1 %)");
}

static void without_fish_there_is_nothing_to_say(void **state)
{
    (void)state;
    char text[FIRST_LOOK_TEXT_SIZE], interval[INTERVAL_TEXT_SIZE];
    const struct first_look look = {.looked_at = 0};
    assert_string_equal(first_look_text(&look, text), "");
    assert_string_equal(first_look_interval_text(&look, interval), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_look_has_its_interval),
        cmocka_unit_test(without_fish_there_is_nothing_to_say),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
