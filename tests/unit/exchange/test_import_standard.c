#include "support/import_bench.h"

static void with_scale(const char *scale, char text[sizeof small_standard + 8])
{
    const char *rest = strstr(small_standard, "scale = 1-5") + strlen("scale = 1-5");
    int head = (int)(strstr(small_standard, "scale = 1-5") - small_standard);
    snprintf(text, sizeof small_standard + 8, "%.*sscale = %s%s", head, small_standard, scale,
             rest);
}

static void test_a_change_is_a_new_version(void **state)
{
    struct small_ledger *small = *state;
    struct standard_version version;
    struct err err;
    char text[sizeof small_standard + 8];
    take_text(small, import_standard, small_standard, 0, 0, 1);
    with_scale("1-10", text); /* nothing has been judged by it yet */
    take_text(small, import_standard, text, 0, 1, 0);
    assert_ok(standard_named(small->ledger, "plain-first", &version, &err), &err);
    assert_int_equal(version.version, 2);
    assert_int_equal(version.standard.highest, 10);
    assert_int_equal(version.origin, ORIGIN_IMPORTED);
}

static void test_fish_that_were_judged_keep_their_scale(void **state)
{
    struct small_ledger *small = *state;
    char text[sizeof small_standard + 8];
    take_text(small, import_fish, "spawning,stage,bowl,fish,body,white\nK1,first,1,1,3,3\n", 1, 0,
              0);
    with_scale("1-10", text);
    refuse_text(small, import_standard, text, "on the scale 1-5; a standard on another scale");
}

static void test_the_line_is_named(void **state)
{
    struct small_ledger *small = *state;
    char text[sizeof small_standard + 8];
    with_scale("5-1", text);
    refuse_text(small, import_standard, text, "f.csv, line 5: ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_change_is_a_new_version, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_fish_that_were_judged_keep_their_scale,
                                        small_ledger_setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_the_line_is_named, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
