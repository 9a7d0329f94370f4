#include "senbetsu/ui/label.h"
#include "support/test.h"

static void assert_fit(const char *label, int columns, const char *expected)
{
    char fitted[LABEL_SIZE];
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
        cmocka_unit_test(test_drops_the_gloss_where_it_does_not_fit),
        cmocka_unit_test(test_keeps_what_is_no_gloss),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
