#include "senbetsu/core/parent.h"
#include "support/test.h"

static void another_state_takes_its_day_along(void **state)
{
    (void)state;
    const struct parent known = {
        .id = 7, .code = "K1", .born = 2020, .state = BROOD_RESTING, .since = "2026-03-01"};
    struct parent nothing = {.code = "K1"}, sold = {.code = "K1", .state = BROOD_SOLD};
    struct parent same = {.code = "K1", .state = BROOD_RESTING};
    struct parent dated = {.code = "K1", .state = BROOD_DEAD, .since = "2026-08-01"};
    parent_merge(&known, &nothing);
    assert_int_equal(nothing.state, BROOD_RESTING);
    assert_string_equal(nothing.since, "2026-03-01");
    assert_int_equal(nothing.id, 7);
    parent_merge(&known, &sold);
    assert_int_equal(sold.state, BROOD_SOLD);
    assert_string_equal(sold.since, "");
    assert_int_equal(sold.born, 2020);
    parent_merge(&known, &same);
    assert_string_equal(same.since, "2026-03-01");
    parent_merge(&known, &dated);
    assert_string_equal(dated.since, "2026-08-01");
}

static void a_day_belongs_to_a_state(void **state)
{
    (void)state;
    struct err err;
    struct parent parent = {.code = "K1", .since = "2026-03-01"};
    assert_says(parent_check_state(&parent, &err), &err, "Say what K1 is since 2026-03-01");
    parent.state = BROOD_SOLD;
    assert_ok(parent_check_state(&parent, &err), &err);
    parent.since[0] = '\0';
    assert_ok(parent_check_state(&parent, &err), &err);
}

static void a_known_sex_has_one_role(void **state)
{
    (void)state;
    struct err err;
    assert_true(parent_check_role("P1", SEX_UNKNOWN, true, &err));
    assert_true(parent_check_role("P1", SEX_FEMALE, true, &err));
    assert_says(parent_check_role("P1", SEX_MALE, true, &err), &err,
                "P1 is male and cannot be a dam");
    assert_says(parent_check_role("P1", SEX_FEMALE, false, &err), &err,
                "P1 is female and cannot be a sire");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(another_state_takes_its_day_along),
        cmocka_unit_test(a_day_belongs_to_a_state),
        cmocka_unit_test(a_known_sex_has_one_role),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
