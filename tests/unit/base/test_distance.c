#include "senbetsu/base/text.h"
#include "support/test.h"

static void counts_what_has_to_change(void **state)
{
    (void)state;
    assert_int_equal(text_distance("", ""), 0);
    assert_int_equal(text_distance("KD1+KS1", "KD1+KS1"), 0);
    assert_int_equal(text_distance("KD1+KS1", "KD1+KS2"), 1);
    assert_int_equal(text_distance("KD1+KS1", "KS1+KD1"), 2);
    assert_int_equal(text_distance("KD1+KS1", "KD1+KS1;KS2"), 4);
    assert_int_equal(text_distance("", "KD1"), 3);
    assert_int_equal(text_distance("KD1", ""), 3);
    assert_int_equal(text_distance("kitten", "sitting"), 3); /* the usual example */
}

static void is_the_same_both_ways(void **state)
{
    (void)state;
    static const char *const texts[] = {"", "a", "ab", "ba", "abc", "bca", "KD1+KS1;KS2"};
    enum { TEXTS = sizeof texts / sizeof *texts };
    for (int i = 0; i < TEXTS; i++)
        for (int j = 0; j < TEXTS; j++)
            assert_int_equal(text_distance(texts[i], texts[j]), text_distance(texts[j], texts[i]));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(counts_what_has_to_change),
        cmocka_unit_test(is_the_same_both_ways),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
