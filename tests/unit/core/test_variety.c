#include "senbetsu/core/variety.h"
#include "support/test.h"

static const struct variety varieties[] = {
    {.name = "Kohaku", .japanese = "紅白"},
    {.name = "Shiro Utsuri", .japanese = "白写り", .spellings = "白写"},
    {.name = "Showa", .japanese = "昭和三色", .spellings = "Showa Sanshoku;昭和"},
    {.name = "Ogon", .japanese = "黄金"},
    {.name = "Line 1"},
};
enum { COUNT = sizeof varieties / sizeof *varieties };

static void assert_found(const char *text, const char *name)
{
    const struct variety *found = variety_find(varieties, COUNT, text);
    if (name == NULL)
        assert_null(found);
    else
        assert_non_null(found);
    if (found != NULL)
        assert_string_equal(found->name, name);
}

static void a_variety_is_found_however_it_is_written(void **state)
{
    (void)state;
    assert_found("Kohaku", "Kohaku");
    assert_found("KOHAKU", "Kohaku");
    assert_found("Kōhaku", "Kohaku");
    assert_found("紅白", "Kohaku");
    assert_found("shiro-utsuri", "Shiro Utsuri");
    assert_found("Shiroutsuri", "Shiro Utsuri");
    assert_found("白写", "Shiro Utsuri");
    assert_found("showa sanshoku", "Showa");
    assert_found("昭和", "Showa");
    assert_found("Kohako", NULL);
    assert_found("Koha", NULL);
    assert_found("", NULL);
    assert_found("-", NULL);
}

static void assert_nearest(const char *text, const char *name, bool expected_typo)
{
    bool typo = !expected_typo;
    const struct variety *nearest = variety_nearest(varieties, COUNT, text, &typo);
    assert_non_null(nearest);
    assert_string_equal(nearest->name, name);
    assert_int_equal(typo, expected_typo);
}

static void a_slip_is_told_from_another_variety(void **state)
{
    (void)state;
    bool typo;
    assert_nearest("Kohako", "Kohaku", true);
    assert_nearest("Kohkau", "Kohaku", true);
    assert_nearest("shiro uturi", "Shiro Utsuri", true);
    assert_nearest("昭和三", "Showa", true);
    assert_nearest("Kohaxxx", "Kohaku", false); /* three letters */
    assert_nearest("Ogen", "Ogon", true);
    assert_nearest("Egen", "Ogon", false); /* half of it */
    assert_nearest("Line 2", "Line 1", false);
    assert_nearest("Lime 1", "Line 1", true);
    assert_null(variety_nearest(varieties, 0, "Kohaku", &typo));
    assert_false(typo);
}

static void a_spelling_is_added_once(void **state)
{
    (void)state;
    struct variety variety = varieties[1];
    assert_true(variety_add_spelling(&variety, "SHIRO UTSURI"));
    assert_string_equal(variety.spellings, "白写");
    assert_true(variety_add_spelling(&variety, "White"));
    assert_true(variety_add_spelling(&variety, "white"));
    assert_string_equal(variety.spellings, "白写;White");
    variety.spellings[0] = '\0';
    assert_true(variety_add_spelling(&variety, "White"));
    assert_string_equal(variety.spellings, "White");
    memset(variety.spellings, 'x', sizeof variety.spellings - 1);
    variety.spellings[sizeof variety.spellings - 1] = '\0';
    assert_false(variety_add_spelling(&variety, "Grey"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_variety_is_found_however_it_is_written),
        cmocka_unit_test(a_slip_is_told_from_another_variety),
        cmocka_unit_test(a_spelling_is_added_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
