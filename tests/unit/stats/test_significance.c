#include "senbetsu/stats/significance.h"
#include "support/test.h"

#include <math.h>

/* With two degrees of freedom the tail is exp(−x/2); the 5 % points of one and two are those of
 * every printed table. */
static void tails_of_the_chi_squared_distribution(void **state)
{
    (void)state;
    assert_true(fabs(significance_chi_squared(7, 2).p - exp(-3.5)) < 1e-15);
    assert_true(fabs(significance_chi_squared(3.841459, 1).p - 0.05) < 1e-7);
    assert_true(fabs(significance_chi_squared(5.991465, 2).p - 0.05) < 1e-7);
}

static void keeps_what_it_was_given(void **state)
{
    (void)state;
    struct significance found = significance_chi_squared(0, 3);
    assert_true(found.known && found.df == 3);
    assert_true(found.statistic == 0 && found.p == 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tails_of_the_chi_squared_distribution),
        cmocka_unit_test(keeps_what_it_was_given),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
