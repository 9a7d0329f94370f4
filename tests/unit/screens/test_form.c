#include "senbetsu/screens/screen.h"
#include "support/test.h"

static void test_lines_are_checked(void **state)
{
    (void)state;
    struct err err;
    assert_true(check_code("K7", &err));
    assert_says(check_code("K7;K8", &err), &err, "The code");
    assert_true(check_codes("P2;P3", &err));
    assert_says(check_codes("P2;a+b", &err), &err, "A code");
    assert_says(check_codes("1;2;3;4;5;6;7;8;9", &err), &err, "At most 8 codes");
    assert_true(check_day("2026-06-14", &err));
    assert_true(check_day("2026", &err));
    assert_says(check_day("2026-02-30", &err), &err, "not \"2026-02-30\"");
    assert_says(check_day("26", &err), &err, "not \"26\"");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_lines_are_checked)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
