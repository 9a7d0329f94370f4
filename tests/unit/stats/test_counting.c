#include "senbetsu/base/csv.h"
#include "senbetsu/stats/counting.h"
#include "support/cells.h"
#include "support/source.h"
#include "support/test.h"

#include <math.h>

static void assert_near(double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%.12g came out, %.12g is expected", actual, expected);
}

/* A number as it is printed in its source. */
static void assert_fish(struct counting counting, int64_t expected)
{
    assert_int_equal(llround(counting.number), expected);
}

static double standard_error(struct counting counting)
{
    return counting.number * counting.cv;
}

/* 300 fry raise the water from 50 to 62 ml, all of them from 500 to 900: 10,000 (University of
 * Florida, hatchery circular). One sample, and so no interval. */
static void fry_by_displacement(void **state)
{
    (void)state;
    static const struct sample sample = {300, 62 - 50};
    struct counting counting = counting_measured(&sample, 1, 900 - 500);
    assert_fish(counting, 10000);
    assert_false(counting.has_interval);
    assert_int_equal(counting_more_samples(&counting, 0.05), -1);
}

/* 36 eggs in 1.5 g, 35 in 1.6, 41 in 1.9; the mass weighs 316.8 g: 22.4 eggs a gram, 7,096 in all
 * (a university lecture on egg counting). The mean of the three ratios would give 7,123. The error
 * is not published; recomputed in R 4.2.2: 231.492157043128, t with 2 degrees of freedom 6100 to
 * 8092. */
static void eggs_by_weight(void **state)
{
    (void)state;
    static const struct sample samples[] = {{36, 1.5}, {35, 1.6}, {41, 1.9}};
    struct counting counting = counting_measured(samples, 3, 316.8);
    assert_near(counting.number / 316.8, 22.4, 1e-12);
    assert_fish(counting, 7096);
    assert_int_not_equal(llround(counting.number), 7123);
    assert_near(standard_error(counting), 231.492157043128, 1e-9);
    assert_near(counting.low, 6100.2896385828, 1e-8);
    assert_near(counting.high, 8092.3503614172, 1e-8);
}

/* Three samples of 200 fingerlings weigh 10, 11 and 12 oz, the load 500 lb: 145,631 with the
 * samples rounded to 2.06 lb as printed, 145,455 with their 33 oz (University of Florida). Spread,
 * error and interval are worked out from the formulas. */
static void fingerlings_by_weight(void **state)
{
    (void)state;
    static const struct sample printed = {600, 2.06};
    static const struct sample samples[] = {{200, 10}, {200, 11}, {200, 12}};
    assert_fish(counting_measured(&printed, 1, 500), 145631);
    struct counting counting = counting_measured(samples, 3, 500 * 16);
    assert_fish(counting, 145455);
    assert_near(counting.cv * sqrt(3), 0.0909, 5e-5);
    assert_near(counting.cv, 0.0525, 5e-5);
    assert_near(counting.high / counting.number - 1, 0.226, 5e-4);
    assert_near(1 - counting.low / counting.number, 0.2258, 5e-5);
}

/* One scoop was counted, 500 fry. 300,000 black fry are 65 % of all: 461,538 (a grower's account,
 * "more than 450,000"). */
static void scoops_of_one_size(void **state)
{
    (void)state;
    static const struct sample scoop = {500, 1};
    static const struct sample black = {300000, 0.65};
    struct counting counting = counting_scooped(&scoop, 1, 600);
    assert_fish(counting, 300000);
    assert_false(counting.has_interval);
    assert_fish(counting_measured(&black, 1, 1), 461538);
}

/* 1,500 kg of fish of 0.75 kg are 2,000, and at 80 % survival 2,500 have to be stocked (technical
 * advice for growers); 3,500 lb at 0.02 lb each are 175,000, at 0.06 lb 58,333, for which a
 * misprint of 53,333 is in circulation. */
static void fish_of_one_weight(void **state)
{
    (void)state;
    static const struct {
        struct sample sample;
        double total;
        int64_t fish;
    } cases[] = {{{1, 0.75}, 1500, 2000},
                 {{1, 0.8}, 2000, 2500},
                 {{1, 0.02}, 3500, 175000},
                 {{1, 0.06}, 3500, 58333}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_fish(counting_measured(&cases[i].sample, 1, cases[i].total), cases[i].fish);
}

enum { EXAMPLE, FISH, MEASURE };

/* The samples of a published example, from a table that names the sources. */
static int load(const char *example, struct sample samples[200])
{
    struct text bytes;
    struct csv csv;
    struct err err;
    int count = 0;
    source_file("tests/data/samples.csv", &bytes);
    assert_ok(csv_parse(&bytes, &csv, &err), &err);
    for (size_t i = 0; i < csv.row_count; i++) {
        const char *fields[CELLS];
        cells_of(&csv, i, fields);
        if (strcmp(fields[EXAMPLE], example) == 0)
            samples[count++] =
                (struct sample){strtoll(fields[FISH], NULL, 10), strtod(fields[MEASURE], NULL)};
    }
    csv_done(&csv);
    text_done(&bytes);
    return count;
}

/* Thompson 2012, Sampling, example 2.1: 15 of 286 units, total 7,416.93, standard error 2,179.192;
 * the 95 % interval recomputed in R 4.2.2. */
static void thompson_15_of_286(void **state)
{
    (void)state;
    struct sample samples[200];
    int count = load("thompson_caribou", samples);
    assert_int_equal(count, 15);
    struct counting counting = counting_scooped(samples, count, 286);
    assert_near(counting.number / 286, 25.9333333333333, 1e-12);
    assert_near(counting.number, 7416.93333333333, 1e-9);
    assert_near(standard_error(counting), 2179.19222139255, 1e-8);
    assert_near(standard_error(counting) / 286, 7.61955322165226, 1e-10);
    assert_near(counting.low, 2743.03086647657, 1e-8);
    assert_near(counting.high, 12090.8358001901, 1e-7);
}

/* Cochran 1977, Sampling Techniques, sec. 2.7: 50 of 676 sheets, 19,888 signatures (recalled); the
 * standard error 1,392.12228111746 recomputed in R 4.2.2. The printed 80 % limits, 18,107 and
 * 21,669, lie 1.28 of it to either side, but for a last digit. */
static void cochran_50_of_676(void **state)
{
    (void)state;
    struct sample samples[200];
    int count = load("cochran_petition", samples);
    assert_int_equal(count, 50);
    struct counting counting = counting_scooped(samples, count, 676);
    assert_fish(counting, 19888);
    assert_near(standard_error(counting), 1392.12228111746, 1e-8);
    assert_near(counting.number - 1.28 * standard_error(counting), 18107, 1);
    assert_near(counting.number + 1.28 * standard_error(counting), 21669, 1);
}

/* Cochran 1977, sec. 3.4 (recalled): 38 of 200 sampled of 3,042 have it: 578, standard error 81.8.
 */
static void cochran_38_in_200_of_3042(void **state)
{
    (void)state;
    struct sample samples[200];
    for (int i = 0; i < 200; i++)
        samples[i] = (struct sample){i < 38, 1};
    struct counting counting = counting_scooped(samples, 200, 3042);
    assert_fish(counting, 578);
    assert_near(standard_error(counting), 81.768195448687, 1e-9);
}

/* Lumley 2010, Complex Surveys (recalled): 200 of 6,194 schools, enrolment 3,621,074, standard
 * error 169,520. */
static void lumley_200_of_6194(void **state)
{
    (void)state;
    struct sample samples[200];
    int count = load("apisrs_enroll", samples);
    assert_int_equal(count, 200);
    struct counting counting = counting_scooped(samples, count, 6194);
    assert_fish(counting, 3621074);
    assert_int_equal(llround(standard_error(counting)), 169520);
    assert_near(standard_error(counting), 169519.654344059, 1e-6);
}

/* Cochran 1977, table 6.1 (recalled): 49 cities; 5,054 in 1920 and 6,262 in 1930, and 22,919 in all
 * cities in 1920: 28,397 in all in 1930. */
static void cochran_49_cities(void **state)
{
    (void)state;
    struct sample samples[200];
    int count = load("cochran_cities", samples);
    assert_int_equal(count, 49);
    assert_fish(counting_measured(samples, count, 22919), 28397);
}

static void scoops_that_were_all_counted_are_exact(void **state)
{
    (void)state;
    static const struct sample samples[] = {{480, 1}, {530, 1}, {505, 1}};
    for (int count = 1; count <= 3; count++) {
        struct counting counting = counting_scooped(samples, count, count);
        assert_true(counting.has_interval);
        assert_true(counting.low == counting.number && counting.high == counting.number);
        assert_int_equal(counting_more_samples(&counting, 0.01), 0);
    }
}

static void no_fish_have_no_interval(void **state)
{
    (void)state;
    static const struct sample samples[] = {{0, 1}, {0, 1}};
    struct counting counting = counting_scooped(samples, 2, 10);
    assert_true(counting.number == 0);
    assert_false(counting.has_interval);
}

static void there_are_never_fewer_than_none(void **state)
{
    (void)state;
    static const struct sample samples[] = {{2, 1}, {90, 1}};
    struct counting counting = counting_scooped(samples, 2, 50);
    assert_true(counting.low == 0 && counting.high > 2 * counting.number);
}

/* The fingerlings again: t₁₄ · 9.09 % / √15 = 5.03 %, t₁₅ · 9.09 % / √16 = 4.84 %. */
static void says_how_many_samples_are_enough(void **state)
{
    (void)state;
    static const struct sample samples[] = {{200, 10}, {200, 11}, {200, 12}};
    struct counting counting = counting_measured(samples, 3, 8000);
    assert_int_equal(counting_more_samples(&counting, 0.05), 16 - 3);
    assert_int_equal(counting_more_samples(&counting, 0.2259), 0);
    assert_int_equal(counting_more_samples(&counting, 0.2257), 1);
    assert_true(counting_more_samples(&counting, 1e-6) > 30000000000);
}

/* What is said to be enough is, and one less is not: samples that repeat themselves vary as much.
 */
static void enough_is_enough(void **state)
{
    (void)state;
    struct sample samples[400];
    for (int i = 0; i < 400; i++)
        samples[i] = (struct sample){i % 2 == 0 ? 440 : 560, 1};
    struct counting few = counting_scooped(samples, 10, 400);
    int64_t enough = 10 + counting_more_samples(&few, 0.02);
    assert_in_range(enough, 60, 200);
    struct counting many = counting_scooped(samples, (int)enough + enough % 2, 400);
    assert_true(many.high / many.number - 1 < 0.0201);
    many = counting_scooped(samples, (int)enough - 10, 400);
    assert_true(many.high / many.number - 1 > 0.02);
    assert_int_equal(counting_more_samples(&few, 1e-9), 390); /* all of them */
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
        cmocka_unit_test(fry_by_displacement),
        cmocka_unit_test(eggs_by_weight),
        cmocka_unit_test(fingerlings_by_weight),
        cmocka_unit_test(scoops_of_one_size),
        cmocka_unit_test(fish_of_one_weight),
        cmocka_unit_test(thompson_15_of_286),
        cmocka_unit_test(cochran_50_of_676),
        cmocka_unit_test(cochran_38_in_200_of_3042),
        cmocka_unit_test(lumley_200_of_6194),
        cmocka_unit_test(cochran_49_cities),
        cmocka_unit_test(scoops_that_were_all_counted_are_exact),
        cmocka_unit_test(no_fish_have_no_interval),
        cmocka_unit_test(there_are_never_fewer_than_none),
        cmocka_unit_test(says_how_many_samples_are_enough),
        cmocka_unit_test(enough_is_enough),
        cmocka_unit_test(condition_of_a_carp),
        cmocka_unit_test(growth_of_fish_that_double),
        cmocka_unit_test(fish_that_lose_weight_grow_backwards),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
