#include "senbetsu/stats/projection.h"
#include "support/test.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

static void assert_near(double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%.12g came out, %.12g is expected", actual, expected);
}

/* Wilson of 7 in 20 is 0.1811918 to 0.5671457 (worked out apart from the program, in Python,
 * from Wilson's formula). */
static void a_counted_lot_takes_wilsons_ends(void **state)
{
    (void)state;
    struct interval interval = projection_interval(7, 20, 10000, 0, 0.95);
    struct interval wilson = wilson_interval(7, 20, 0.95);
    assert_near(interval.low, 10000 * wilson.low, 1e-8);
    assert_near(interval.high, 10000 * wilson.high, 1e-8);
    assert_near(interval.low, 1811.918, 1e-3);
    assert_near(interval.high, 5671.457, 1e-3);
}

/* By hand, 7 of 20 and 10,000 fish with a cv of 0.1: below, √(1688.082² + 685.987² + 330.858²) =
 * 1851.936; above, √(2171.457² + 685.987² + 425.598²) = 2316.665. */
static void the_error_of_the_number_is_added(void **state)
{
    (void)state;
    struct interval interval = projection_interval(7, 20, 10000, 0.1, 0.95);
    assert_near(interval.low, 3500 - 1851.936, 0.001);
    assert_near(interval.high, 3500 + 2316.665, 0.001);
}

static void what_was_seen_is_there(void **state)
{
    (void)state;
    struct interval interval = projection_interval(10, 20, 25, 0, 0.95);
    assert_true(interval.low == 10);
    assert_true(interval.high == 15);
    interval = projection_interval(0, 20, 1000, 0, 0.95);
    assert_true(interval.low == 0);
    assert_near(interval.high, 1000 * wilson_interval(0, 20, 0.95).high, 1e-9);
    interval = projection_interval(20, 20, 1000, 0, 0.95);
    assert_true(interval.high == 1000);
    /* More were looked at than the lot was said to hold. */
    interval = projection_interval(18, 20, 15, 0, 0.95);
    assert_true(interval.low == 18 && interval.high == 18);
}

/* A lot of 5000 fish, counted to 8 %; 40 of them are looked at. */
static void covers_as_often_as_it_says(void **state)
{
    (void)state;
    enum { TRIALS = 10000, LOT = 5000, LOOKED_AT = 40 };
    static const double shares[] = {0.1, 0.25, 0.5, 0.8};
    gsl_rng *chance = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        int good = (int)round(shares[i] * LOT), covered = 0;
        for (int preview = 0; preview < TRIALS; preview++) {
            unsigned found =
                gsl_ran_hypergeometric(chance, (unsigned)good, (unsigned)(LOT - good), LOOKED_AT);
            int64_t number = llround(LOT * (1 + gsl_ran_gaussian(chance, 0.08)));
            struct interval interval = projection_interval(found, LOOKED_AT, number, 0.08, 0.95);
            covered += interval.low <= good && good <= interval.high;
        }
        if (covered < 9300 || covered > 9750)
            fail_msg("share %g is covered %d times in 10000", shares[i], covered);
    }
    gsl_rng_free(chance);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_counted_lot_takes_wilsons_ends),
        cmocka_unit_test(the_error_of_the_number_is_added),
        cmocka_unit_test(what_was_seen_is_there),
        cmocka_unit_test(covers_as_often_as_it_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
