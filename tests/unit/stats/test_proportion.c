#include "senbetsu/stats/proportion.h"
#include "support/cells.h"
#include "support/published.h"
#include "support/test.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

enum { CASE, KEPT, TOTAL, CONFIDENCE, PUBLISHED_LOW, PUBLISHED_HIGH, SOURCE, STATUS, LOW, HIGH };

struct method {
    const char *table;
    struct interval (*interval)(int64_t kept, int64_t total, double confidence);
    int published, recomputed; /* rows */
};

static const struct method wilson = {"tests/data/wilson.csv", wilson_interval, 10, 53};
static const struct method clopper_pearson = {"tests/data/clopper_pearson.csv",
                                              clopper_pearson_interval, 5, 50};
static const struct method *const methods[] = {&wilson, &clopper_pearson};
enum { METHODS = sizeof methods / sizeof *methods };

static void check_exact(const char *name, const char *expected, double value)
{
    if (*expected != '\0' && fabs(strtod(expected, NULL) - value) > 1e-12)
        fail_msg("%s: %s expected, %.15g came out", name, expected, value);
}

static struct interval interval_of(const struct method *method, const char **fields)
{
    return method->interval(strtoll(fields[KEPT], NULL, 10), strtoll(fields[TOTAL], NULL, 10),
                            strtod(fields[CONFIDENCE], NULL));
}

static void check_table(const struct method *method)
{
    struct csv csv;
    published_load(method->table, &csv);
    int published = 0, recomputed = 0;
    for (size_t i = 0; i < csv.row_count; i++) {
        const char *fields[CELLS];
        cells_of(&csv, i, fields);
        struct interval interval = interval_of(method, fields);
        assert_printed_as(fields[CASE], fields[PUBLISHED_LOW], interval.low);
        assert_printed_as(fields[CASE], fields[PUBLISHED_HIGH], interval.high);
        check_exact(fields[CASE], fields[LOW], interval.low);
        check_exact(fields[CASE], fields[HIGH], interval.high);
        published += *fields[PUBLISHED_LOW] != '\0';
        recomputed += *fields[LOW] != '\0';
    }
    assert_int_equal(published, method->published);
    assert_int_equal(recomputed, method->recomputed);
    csv_done(&csv);
}

static void wilson_agrees_with_its_table(void **state)
{
    (void)state;
    check_table(&wilson);
}

static void clopper_pearson_agrees_with_its_table(void **state)
{
    (void)state;
    check_table(&clopper_pearson);
}

static void every_row_names_its_source(void **state)
{
    (void)state;
    for (int i = 0; i < METHODS; i++)
        assert_sources_named(methods[i]->table);
}

static void check_ends(const struct method *method, int total)
{
    for (int kept = 0; kept <= total; kept++) {
        struct interval interval = method->interval(kept, total, 0.95);
        double share = (double)kept / total;
        assert_true(0 <= interval.low && interval.low <= share);
        assert_true(share <= interval.high && interval.high <= 1);
        assert_int_equal(interval.low == 0, kept == 0);
        assert_int_equal(interval.high == 1, kept == total);
    }
}

static void stays_within_0_and_1_and_around_the_share(void **state)
{
    (void)state;
    for (int total = 1; total <= 100; total++)
        for (int i = 0; i < METHODS; i++)
            check_ends(methods[i], total);
}

static void is_the_same_seen_from_the_other_side(void **state)
{
    (void)state;
    for (int i = 0; i < METHODS; i++) {
        struct interval kept = methods[i]->interval(17, 60, 0.9);
        struct interval culled = methods[i]->interval(43, 60, 0.9);
        assert_true(fabs(kept.low - (1 - culled.high)) < 1e-14);
        assert_true(fabs(kept.high - (1 - culled.low)) < 1e-14);
    }
}

static void serves_counts_beyond_32_bits(void **state)
{
    (void)state;
    for (int i = 0; i < METHODS; i++) {
        struct interval interval = methods[i]->interval(5000000000, 10000000000, 0.95);
        assert_true(0.49998 < interval.low && interval.low < 0.5);
        assert_true(0.5 < interval.high && interval.high < 0.50002);
    }
}

/* None of n: 1 - (half of what is left out)^(1/n); all of n: the same from the other side. */
static void clopper_pearson_has_a_closed_form_at_the_ends(void **state)
{
    (void)state;
    static const int totals[] = {1, 29, 1000, 100000, 420000};
    for (size_t i = 0; i < sizeof totals / sizeof *totals; i++) {
        double reach = -expm1(log(0.025) / totals[i]);
        assert_true(fabs(clopper_pearson_interval(0, totals[i], 0.95).high / reach - 1) < 1e-9);
        assert_true(fabs(clopper_pearson_interval(totals[i], totals[i], 0.95).low - (1 - reach)) <
                    1e-12);
    }
}

/* 2 of 260 is a case in which GSL's inverse of the beta distribution gives up; the limits are
 * worked out from binomial coefficients in whole numbers. */
static void few_of_many_are_no_trouble(void **state)
{
    (void)state;
    for (int total = 231; total < 5000; total += 97)
        for (int kept = 1; kept < 4; kept++) {
            struct interval exact = clopper_pearson_interval(kept, total, 0.95);
            struct interval score = wilson_interval(kept, total, 0.95);
            assert_true(0 < exact.low && exact.low < score.low);
            assert_true(score.low < exact.high && exact.high < 2 * score.high);
        }
    struct interval interval = clopper_pearson_interval(2, 260, 0.95);
    assert_true(fabs(interval.low - 0.0009329355060647) < 1e-13 &&
                fabs(interval.high - 0.0275094647749559) < 1e-13);
}

static void a_share_of_whole_fish_is_wilson_of_the_fish(void **state)
{
    (void)state;
    struct interval fish = wilson_interval(623, 1930, 0.95);
    struct interval share = wilson_share_interval(623.0 / 1930, 1930, 0.95);
    assert_true(fabs(fish.low - share.low) < 1e-15 && fabs(fish.high - share.high) < 1e-15);
    assert_true(wilson_share_interval(0, 12.5, 0.95).low == 0);
    assert_true(wilson_share_interval(1, 12.5, 0.95).high == 1);
}

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
    struct interval share = wilson_interval(7, 20, 0.95);
    assert_near(interval.low, 10000 * share.low, 1e-8);
    assert_near(interval.high, 10000 * share.high, 1e-8);
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
        cmocka_unit_test(wilson_agrees_with_its_table),
        cmocka_unit_test(clopper_pearson_agrees_with_its_table),
        cmocka_unit_test(every_row_names_its_source),
        cmocka_unit_test(stays_within_0_and_1_and_around_the_share),
        cmocka_unit_test(is_the_same_seen_from_the_other_side),
        cmocka_unit_test(serves_counts_beyond_32_bits),
        cmocka_unit_test(clopper_pearson_has_a_closed_form_at_the_ends),
        cmocka_unit_test(few_of_many_are_no_trouble),
        cmocka_unit_test(a_share_of_whole_fish_is_wilson_of_the_fish),
        cmocka_unit_test(a_counted_lot_takes_wilsons_ends),
        cmocka_unit_test(the_error_of_the_number_is_added),
        cmocka_unit_test(what_was_seen_is_there),
        cmocka_unit_test(covers_as_often_as_it_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
