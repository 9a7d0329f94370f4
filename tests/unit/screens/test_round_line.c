#include "senbetsu/screens/round_line.h"
#include "support/test.h"

static void test_names_and_settings(void **state)
{
    (void)state;
    char text[ROUND_TEXT_SIZE];
    struct round_line line = {.stage = STAGE_THIRD, .bowls = 1, .places = -1};
    assert_string_equal(round_line_name(&line, text), "third");
    assert_string_equal(round_line_about(&line, text), "1 bowl");
    line = (struct round_line){.stage = STAGE_THIRD,
                               .lot = "north",
                               .bowls = 3,
                               .first_day = "2026-08-30",
                               .last_day = "2026-08-31",
                               .places = 0,
                               .standard = "kikusui-third",
                               .fate = FATE_PASSED_ON};
    assert_string_equal(round_line_name(&line, text), "third north");
    assert_string_equal(round_line_about(&line, text),
                        "3 bowls, 2026-08-30 to 2026-08-31, 0 places, by kikusui-third, "
                        "rejects passed-on");
    line = (struct round_line){.stage = STAGE_FIRST, .tallied = true, .places = -1};
    assert_string_equal(round_line_about(&line, text), "tallied");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_names_and_settings)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
