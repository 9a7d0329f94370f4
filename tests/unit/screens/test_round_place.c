#include "senbetsu/screens/round_place.h"
#include "support/test.h"

static void what_is_kept_comes_back(void **state)
{
    (void)state;
    struct place place = round_place(7, 9, AT_SCOOPS | AT_FIRST_LOOK, true);
    assert_int_equal(place.judge, 7);
    assert_int_equal(place.round_id, 9);
    assert_true(place.in_sheet);
    assert_true(round_place_is(&place, AT_SCOOPS));
    assert_true(round_place_is(&place, AT_FIRST_LOOK));
    place = round_place(7, 9, 0, false);
    assert_false(round_place_is(&place, AT_SCOOPS));
    assert_false(round_place_is(&place, AT_FIRST_LOOK));
}

/* A fish's number is none of it. */
static void a_place_in_a_bowl_is_another(void **state)
{
    (void)state;
    const struct place fish = {.round_id = 9, .bowl_id = 4, .number = 3};
    const struct place held = {.round_id = 9, .number = 3, .second_look = true};
    assert_false(round_place_is(&fish, AT_SCOOPS | AT_FIRST_LOOK));
    assert_false(round_place_is(&held, AT_SCOOPS | AT_FIRST_LOOK));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_kept_comes_back),
        cmocka_unit_test(a_place_in_a_bowl_is_another),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
