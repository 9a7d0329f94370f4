#include "senbetsu/stats/growth.h"
#include "support/test.h"

#include <math.h>

static void assert_near(double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%.12g came out, %.12g is expected", actual, expected);
}

/* 500 g and 30 cm: 1.852 (a published calculation page; exactly 500/27,000 × 100). */
static void condition_of_a_carp(void **state)
{
    (void)state;
    assert_near(condition_factor(500, 300), 1.852, 5e-4);
    assert_near(condition_factor(500, 300), 50000.0 / 27000, 1e-12);
}

/* 50 to 100 g in 10 days: 6.931 % a day; 30 to 60 g in 15 days: 4.621, for which a page in
 * circulation prints 4.615 (wrong: ln 2 ÷ 15). */
static void growth_of_fish_that_double(void **state)
{
    (void)state;
    assert_near(growth_per_day(50, 100, 10), 6.931, 5e-4);
    assert_near(growth_per_day(30, 60, 15), 4.621, 5e-4);
}

static void fish_that_lose_weight_grow_backwards(void **state)
{
    (void)state;
    assert_near(growth_per_day(100, 50, 10), -growth_per_day(50, 100, 10), 1e-12);
    assert_near(growth_per_day(7, 7, 3), 0, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(condition_of_a_carp),
        cmocka_unit_test(growth_of_fish_that_double),
        cmocka_unit_test(fish_that_lose_weight_grow_backwards),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
