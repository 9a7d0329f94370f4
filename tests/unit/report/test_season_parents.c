#include "senbetsu/report/season_parents.h"
#include "support/test.h"

#include <math.h>

static void assert_near(double found, double expected)
{
    if (fabs(found - expected) > 1e-12)
        fail_msg("%.15g came out, not %.15g", found, expected);
}

static void each_parent_counts_once(void **state)
{
    (void)state;
    const struct parentage spawnings[] = {
        {"D1", "P1", 600}, {"D1", "P2;P10", 200}, {"D10", "P1", 200}};
    struct season_parents parents = season_parents_sum(spawnings, 3);
    assert_int_equal(parents.dams, 2);
    assert_int_equal(parents.sires, 3);
    assert_int_equal(parents.left_out, 0);
    assert_near(parents.effective, 24.0 / 5);
    /* Dams 0.8 and 0.2, sires 0.8, 0.1 and 0.1. */
    double dams = 1 / 0.68, sires = 1 / 0.66;
    assert_near(parents.effective_by_fish, 4 * dams * sires / (dams + sires));
}

static void a_spawning_nobody_has_counted_leaves_the_shares_open(void **state)
{
    (void)state;
    const struct parentage spawnings[] = {{"D1", "P1", 600}, {"D2", "P2", NOT_COUNTED}};
    struct season_parents parents = season_parents_sum(spawnings, 2);
    assert_near(parents.effective, 4);
    assert_near(parents.effective_by_fish, 0);
}

static void spawnings_without_named_parents_are_left_out(void **state)
{
    (void)state;
    const struct parentage spawnings[] = {
        {"D1", "", 10}, {"", "P1", NOT_COUNTED}, {"D1", "P1", 5}, {"D2", "P1", 0}};
    struct season_parents parents = season_parents_sum(spawnings, 4);
    assert_int_equal(parents.left_out, 2);
    assert_near(parents.effective, 8.0 / 3);
    assert_near(parents.effective_by_fish, 2);
    parents = season_parents_sum(spawnings, 2);
    assert_int_equal(parents.dams, 0);
    assert_near(parents.effective, 0);
    assert_near(parents.effective_by_fish, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_parent_counts_once),
        cmocka_unit_test(a_spawning_nobody_has_counted_leaves_the_shares_open),
        cmocka_unit_test(spawnings_without_named_parents_are_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
