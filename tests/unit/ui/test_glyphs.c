#include "senbetsu/ui/glyphs.h"
#include "support/test.h"

static void test_stands_in(void **state)
{
    (void)state;
    assert_int_equal(glyph_ascii("a"), 'a');
    assert_int_equal(glyph_ascii("~"), '~');
    assert_int_equal(glyph_ascii("█"), '#');
    assert_int_equal(glyph_ascii("─"), '-');
    assert_int_equal(glyph_ascii("·"), '.');
    assert_int_equal(glyph_ascii("▸"), '>');
    assert_int_equal(glyph_ascii("▲"), '^');
    assert_int_equal(glyph_ascii("×"), 'x');
}

static void test_others_are_question_marks(void **state)
{
    (void)state;
    assert_int_equal(glyph_ascii("白"), '?');
    assert_int_equal(glyph_ascii("é"), '?');
    assert_int_equal(glyph_ascii("e\xcc\x81"), '?');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stands_in),
        cmocka_unit_test(test_others_are_question_marks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
