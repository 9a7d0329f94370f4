#include "senbetsu/screens/round_line.h"
#include "support/test.h"

static void test_names_and_settings(void **state)
{
    (void)state;
    char text[ROUND_TEXT_SIZE];
    struct round_summary line = {
        .round = {.stage = STAGE_THIRD, .manner = MANNER_JUDGE, .own_lot = true, .places = -1},
        .bowls = 1};
    assert_string_equal(round_name(&line.round, text), "third");
    assert_string_equal(round_about(&line, text), "1 bowl");
    line = (struct round_summary){.round = {.stage = STAGE_THIRD,
                                            .manner = MANNER_JUDGE,
                                            .lot = "north",
                                            .places = 0,
                                            .standard = "kikusui-third",
                                            .fate = FATE_PASSED_ON},
                                  .bowls = 3,
                                  .first_day = "2026-08-30",
                                  .last_day = "2026-08-31"};
    assert_string_equal(round_name(&line.round, text), "third north");
    assert_string_equal(round_about(&line, text),
                        "3 bowls, 2026-08-30 to 2026-08-31, 0 places, by kikusui-third, "
                        "rejects passed-on");
    line = (struct round_summary){.round = {.manner = MANNER_PICK, .places = -1}};
    assert_string_equal(round_about(&line, text), "tallied");
    line.stated = true;
    assert_string_equal(round_about(&line, text), "stated");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_names_and_settings)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
