#include "senbetsu/core/fish.h"
#include "support/test.h"

/* Source: Japanese size-class lists: the upper bound in cm belongs to the class, so 15.0 cm is
 * class 15 and 15.1 cm is class 20. */
static void the_japanese_class_includes_its_upper_bound(void **state)
{
    (void)state;
    assert_int_equal(size_class_bu(150), 15);
    assert_int_equal(size_class_bu(151), 20);
    assert_int_equal(size_class_bu(1), 12);
    assert_int_equal(size_class_bu(120), 12);
    assert_int_equal(size_class_bu(121), 15);
    assert_int_equal(size_class_bu(850), 85);
    assert_int_equal(size_class_bu(851), 90);
    assert_int_equal(size_class_bu(2000), 90);
    assert_int_equal(size_class_bu(0), 0);
    assert_int_equal(size_class_bu(-5), 0);
    for (int bu = 20; bu <= 85; bu += 5) {
        assert_int_equal(size_class_bu(10 * bu - 49), bu);
        assert_int_equal(size_class_bu(10 * bu), bu);
    }
}

/* Source: a ZNA regional chapter's show categories of 2025: 9.9 cm is not judged, 10.0 and 19.9 cm
 * are size 1, 20.0 cm is size 2, 80 cm and over is size 8. */
static void the_club_class_begins_at_its_lower_bound(void **state)
{
    (void)state;
    assert_int_equal(size_class_decimetre(99), 0);
    assert_int_equal(size_class_decimetre(100), 1);
    assert_int_equal(size_class_decimetre(199), 1);
    assert_int_equal(size_class_decimetre(200), 2);
    assert_int_equal(size_class_decimetre(799), 7);
    assert_int_equal(size_class_decimetre(800), 8);
    assert_int_equal(size_class_decimetre(1200), 8);
    assert_int_equal(size_class_decimetre(0), 0);
}

/* ISO 11784: a country code of three digits and a national number of 38 bits, that is up to
 * 274877906943. */
static void transponders_have_fifteen_digits(void **state)
{
    (void)state;
    assert_true(tag_is_transponder("392141000123456"));
    assert_true(tag_is_transponder("001000000000000"));
    assert_true(tag_is_transponder("999274877906943"));
    assert_false(tag_is_transponder("999274877906944"));
    assert_false(tag_is_transponder("000141000123456"));
    assert_false(tag_is_transponder("39214100012345"));
    assert_false(tag_is_transponder("3921410001234567"));
    assert_false(tag_is_transponder("39214100012345x"));
    assert_false(tag_is_transponder("-92141000123456"));
    assert_false(tag_is_transponder(""));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(transponders_have_fifteen_digits),
        cmocka_unit_test(the_japanese_class_includes_its_upper_bound),
        cmocka_unit_test(the_club_class_begins_at_its_lower_bound),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
