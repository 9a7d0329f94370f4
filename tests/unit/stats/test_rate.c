#include "senbetsu/stats/rate.h"
#include "support/test.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

static void assert_near(double actual, double expected, double tolerance)
{
    if (!(fabs(actual - expected) <= tolerance))
        fail_msg("%.12g came out, %.12g is expected", actual, expected);
}

static struct interval interval_of(const struct cull *culls, int count)
{
    struct interval interval;
    assert_true(rate_interval(culls, count, 0.95, &interval));
    return interval;
}

/* A fish farming norm: 200,000 eggs of each of 10 females, 75 % hatch, 70 % of the larvae reach
 * juvenile size: 1,050,000 juveniles (published hatchery norm for wild carp). */
static void rates_multiply(void **state)
{
    (void)state;
    static const struct cull chain[] = {{.in = 2000000, .kept = 1500000},
                                        {.in = 1500000, .kept = 1050000}};
    assert_near(rate_chained(chain, 2) * 2000000, 1050000, 1e-6);
    /* 45,000 fry released, 300 harvested, 120 kept: 0.667 %, 40.0 %, 0.267 % of all (an
     * association's account of one pond, the middle of its "40 to 50 thousand"). */
    static const struct cull pond[] = {{.in = 45000, .kept = 300}, {.in = 300, .kept = 120}};
    assert_near(rate_chained(pond, 1), 0.00667, 5e-6);
    assert_near(rate_chained(pond + 1, 1), 0.4, 1e-12);
    assert_near(rate_chained(pond, 2), 0.00267, 5e-6);
}

/* Third culls of one farm: 1,930 → 623 and 1,000 → 368; the Wilson ends are worked out from its
 * formula. */
static void counted_fish_have_wilsons_interval(void **state)
{
    (void)state;
    struct cull sanke = {.in = 1930, .kept = 623}, kujaku = {.in = 1000, .kept = 368};
    struct interval interval = interval_of(&sanke, 1);
    assert_near(interval.low, 0.3023, 5e-5);
    assert_near(interval.high, 0.3440, 5e-5);
    interval = interval_of(&kujaku, 1);
    assert_near(interval.low, 0.3387, 5e-5);
    assert_near(interval.high, 0.3983, 5e-5);
    struct cull both = cull_sum(sanke, kujaku);
    assert_near(rate_chained(&both, 1), 0.3382, 5e-5); /* 991 of 2,930, not the mean of the rates */
    struct interval wilson = wilson_interval(991, 2930, 0.95);
    interval = interval_of(&both, 1);
    assert_true(interval.low == wilson.low && interval.high == wilson.high);
}

/* Counted all the way, with nothing lost between: as if only the first and last number were known.
 */
static void a_chain_without_gaps_is_one_cull(void **state)
{
    (void)state;
    static const struct cull chains[][3] = {
        {{.in = 1000, .kept = 400}, {.in = 400, .kept = 100}, {.in = 100, .kept = 7}},
        {{.in = 1000, .kept = 400}, {.in = 400, .kept = 400}, {.in = 400, .kept = 0}},
        {{.in = 1000, .kept = 1000}, {.in = 1000, .kept = 1000}, {.in = 1000, .kept = 1000}},
    };
    for (size_t i = 0; i < sizeof chains / sizeof *chains; i++) {
        struct interval chain = interval_of(chains[i], 3);
        struct interval wilson = wilson_interval(chains[i][2].kept, 1000, 0.95);
        assert_near(chain.low, wilson.low, 1e-12);
        assert_near(chain.high, wilson.high, 1e-12);
    }
}

static void an_estimate_widens_the_interval(void **state)
{
    (void)state;
    double width = 0;
    for (int percent = 0; percent <= 60; percent += 5) {
        struct cull cull = {.in = 20000, .kept = 3000, .in_cv = percent / 100.0};
        struct interval interval = interval_of(&cull, 1);
        assert_true(0 < interval.low && interval.low < 0.15);
        assert_true(0.15 < interval.high && interval.high <= 1);
        assert_true(interval.high - interval.low > width);
        width = interval.high - interval.low;
    }
}

/* By hand: Wilson of 3,000 in 20,000 is 0.1451186 to 0.1550159. With a cv of 0.1 the distances on
 * the logarithmic scale are √(0.0330842² + 0.1959964²) and √(0.0328921² + 0.1959964²). */
static void the_widened_ends_are_those_worked_out_by_hand(void **state)
{
    (void)state;
    struct cull cull = {.in = 20000, .kept = 3000, .in_cv = 0.1};
    struct interval interval = interval_of(&cull, 1);
    assert_near(interval.low, 0.15 * exp(-0.1987691), 1e-7);
    assert_near(interval.high, 0.15 * exp(0.1987372), 1e-7);
}

static void the_same_number_has_its_error_once(void **state)
{
    (void)state;
    static const struct cull handed_on[] = {{.in = 90000, .kept = 9000, .kept_cv = 0.1},
                                            {.in = 9000, .kept = 3000, .in_cv = 0.1}};
    static const struct cull counted[] = {{.in = 90000, .kept = 9000}, {.in = 9000, .kept = 3000}};
    static const struct cull made_anew[] = {{.in = 90000, .kept = 9000, .kept_cv = 0.1},
                                            {.in = 9100, .kept = 3000, .in_cv = 0.1}};
    assert_near(interval_of(handed_on, 2).high, interval_of(counted, 2).high, 1e-12);
    assert_true(interval_of(made_anew, 2).high > 1.2 * interval_of(counted, 2).high);
}

static void none_and_all_have_intervals_too(void **state)
{
    (void)state;
    struct cull none = {.in = 20000, .kept = 0, .in_cv = 0.1};
    struct interval interval = interval_of(&none, 1);
    struct interval fewer = wilson_share_interval(0, 20000 / 1.1959964, 0.95);
    assert_true(interval.low == 0);
    assert_near(interval.high, fewer.high, 1e-10);
    struct cull all = {.in = 500, .kept = 500, .in_cv = 0.1};
    interval = interval_of(&all, 1);
    assert_near(interval.low, exp(-0.1961458), 1e-7);
    assert_true(interval.high == 1);
}

static void some_have_none(void **state)
{
    (void)state;
    static const struct cull chains[][2] = {
        {{.in = 100, .kept = 50}, {.in = 0, .kept = 0}},
        {{.in = 100, .kept = 50}, {.in = 60, .kept = 61}}, /* fish found again */
        {{.in = 100, .kept = 0}, {.in = 20, .kept = 0}},
    };
    for (size_t i = 0; i < sizeof chains / sizeof *chains; i++) {
        struct interval interval = {-1, -1};
        assert_false(rate_interval(chains[i], 2, 0.95, &interval));
        assert_true(interval.low == -1 && interval.high == -1);
    }
}

static void errors_of_a_sum_add_as_squares(void **state)
{
    (void)state;
    struct cull a = {.in = 3000, .kept = 30, .in_cv = 0.1};
    struct cull b = {.in = 4000, .kept = 0, .in_cv = 0.1, .kept_cv = 0};
    struct cull sum = cull_sum(a, b);
    assert_int_equal(sum.in, 7000);
    assert_int_equal(sum.kept, 30);
    assert_near(sum.in_cv, 500.0 / 7000, 1e-15);
    assert_true(sum.kept_cv == 0);
    struct cull nothing = {0};
    assert_true(cull_sum(nothing, nothing).in_cv == 0);
    a.covariance = 0.01;
    b = (struct cull){.in = 1000, .kept = 70, .covariance = 0.02};
    assert_near(cull_sum(a, b).covariance, (3000 * 30 * 0.01 + 1000 * 70 * 0.02) / (4000 * 100),
                1e-15);
}

/* In any order: two that are done, two that are not. */
static void what_is_not_done_is_left_out_of_a_sum(void **state)
{
    (void)state;
    const struct cull done = {.in = 1000, .kept = 70};
    const struct cull begun = {.in = 35, .kept = 30, .done = 35, .whole = 60, .not_done = true};
    struct cull sums[] = {cull_sum(cull_sum(done, begun), cull_sum(begun, done)),
                          cull_sum(cull_sum(begun, begun), cull_sum(done, done)),
                          cull_sum(cull_sum(cull_sum(done, begun), done), begun)};
    for (size_t i = 0; i < sizeof sums / sizeof *sums; i++) {
        assert_int_equal(sums[i].in, 2000);
        assert_int_equal(sums[i].kept, 140);
        assert_int_equal(sums[i].done, 70);
        assert_int_equal(sums[i].whole, 120);
        assert_false(sums[i].not_done);
    }
    struct cull both = cull_sum(begun, begun);
    assert_true(both.not_done);
    assert_int_equal(both.in, 70);
}

enum { TIMES = 10000 };

/* A number as it is made with an error of `cv`. */
static int64_t estimate(gsl_rng *rng, int64_t number, double cv)
{
    return llround((double)number * (1 + gsl_ran_gaussian(rng, cv)));
}

static void assert_covered(int covered, const char *what, double share, int64_t in, double in_cv,
                           double kept_cv)
{
    if (covered < 0.93 * TIMES || covered > 0.97 * TIMES)
        fail_msg("%s: %g of %lld fish, cv %g and %g: covered %d times in %d", what, share,
                 (long long)in, in_cv, kept_cv, covered, TIMES);
}

static void simulate_cull(gsl_rng *rng, double share, int64_t in, double in_cv, double kept_cv)
{
    int covered = 0;
    for (int i = 0; i < TIMES; i++) {
        int64_t kept = gsl_ran_binomial(rng, share, (unsigned)in);
        struct cull seen = {.in = estimate(rng, in, in_cv),
                            .kept = estimate(rng, kept, kept_cv),
                            .in_cv = in_cv,
                            .kept_cv = kept_cv};
        struct interval interval;
        covered += rate_interval(&seen, 1, 0.95, &interval) && interval.low <= share &&
                   share <= interval.high;
    }
    assert_covered(covered, "a cull", share, in, in_cv, kept_cv);
}

static const double errors[][2] = {{0, 0},       {0.03, 0},    {0.08, 0}, {0.15, 0},
                                   {0.03, 0.03}, {0.15, 0.15}, {0, 0.15}};
enum { ERRORS = sizeof errors / sizeof *errors };

/* What the interval promises, over the range that culls of the trade lie in. */
static void a_cull_is_covered_as_often_as_promised(void **state)
{
    (void)state;
    static const double shares[] = {0.05, 0.2, 0.5};
    static const int64_t numbers[] = {500, 5000, 100000};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20260614);
    for (int share = 0; share < 3; share++)
        for (int number = 0; number < 3; number++)
            for (int error = 0; error < ERRORS; error++)
                simulate_cull(rng, shares[share], numbers[number], errors[error][0],
                              errors[error][1]);
    gsl_rng_free(rng);
}

/* Both numbers made with the same scoop, and fish that were not removed as the rest of an estimated
 * lot: what the errors have in common does not count twice. */
static void shared_errors_are_covered_as_often_as_promised(void **state)
{
    (void)state;
    static const double shares[] = {0.3, 0.5, 0.8};
    enum { IN = 20000 };
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20260702);
    for (int i = 0; i < 3; i++) {
        const double cv = 0.05;
        int scooped = 0;
        int rest = 0;
        for (int time = 0; time < TIMES; time++) {
            int64_t kept = gsl_ran_binomial(rng, shares[i], IN);
            double size = 1 + gsl_ran_gaussian(rng, cv);
            struct cull same = {.in = llround(IN * size),
                                .kept = llround((double)kept * size),
                                .in_cv = cv,
                                .kept_cv = cv,
                                .covariance = cv * cv};
            int64_t lot = estimate(rng, IN, cv);
            int64_t left = lot - (IN - kept);
            double left_cv = cv * (double)lot / (double)left;
            struct cull remove = {.in = lot,
                                  .kept = left,
                                  .in_cv = cv,
                                  .kept_cv = left_cv,
                                  .covariance = cv * left_cv};
            struct interval interval;
            scooped += rate_interval(&same, 1, 0.95, &interval) && interval.low <= shares[i] &&
                       shares[i] <= interval.high;
            rest += rate_interval(&remove, 1, 0.95, &interval) && interval.low <= shares[i] &&
                    shares[i] <= interval.high;
        }
        assert_covered(scooped, "one scoop", shares[i], IN, cv, cv);
        assert_covered(rest, "the rest", shares[i], IN, cv, cv);
    }
    gsl_rng_free(rng);
}

/* First, second and third cull. One fish in twenty dies after the first, so that the second begins
 * with a number made anew; the third begins with the number that the second ended with. */
static bool chain_covers(gsl_rng *rng, int64_t in, double in_cv, double kept_cv)
{
    static const double shares[] = {0.1, 0.3, 0.5};
    int64_t first = gsl_ran_binomial(rng, shares[0], (unsigned)in);
    int64_t alive = first - first / 20;
    int64_t second = gsl_ran_binomial(rng, shares[1], (unsigned)alive);
    int64_t third = gsl_ran_binomial(rng, shares[2], (unsigned)second);
    int64_t handed_on = estimate(rng, second, kept_cv);
    struct cull seen[] = {
        {.in = estimate(rng, in, in_cv),
         .kept = estimate(rng, first, kept_cv),
         .in_cv = in_cv,
         .kept_cv = kept_cv},
        {.in = estimate(rng, alive, in_cv), .kept = handed_on, .in_cv = in_cv, .kept_cv = kept_cv},
        {.in = handed_on, .kept = third, .in_cv = kept_cv, .kept_cv = 0},
    };
    struct interval interval;
    double rate = shares[0] * shares[1] * shares[2];
    return rate_interval(seen, 3, 0.95, &interval) && interval.low <= rate && rate <= interval.high;
}

static void a_chain_is_covered_as_often_as_promised(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20260615);
    for (int error = 0; error < ERRORS; error++) {
        int covered = 0;
        for (int i = 0; i < TIMES; i++)
            covered += chain_covers(rng, 40000, errors[error][0], errors[error][1]);
        assert_covered(covered, "three culls", 0.015, 40000, errors[error][0], errors[error][1]);
    }
    gsl_rng_free(rng);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rates_multiply),
        cmocka_unit_test(what_is_not_done_is_left_out_of_a_sum),
        cmocka_unit_test(counted_fish_have_wilsons_interval),
        cmocka_unit_test(a_chain_without_gaps_is_one_cull),
        cmocka_unit_test(an_estimate_widens_the_interval),
        cmocka_unit_test(the_widened_ends_are_those_worked_out_by_hand),
        cmocka_unit_test(the_same_number_has_its_error_once),
        cmocka_unit_test(none_and_all_have_intervals_too),
        cmocka_unit_test(some_have_none),
        cmocka_unit_test(errors_of_a_sum_add_as_squares),
        cmocka_unit_test(a_cull_is_covered_as_often_as_promised),
        cmocka_unit_test(shared_errors_are_covered_as_often_as_promised),
        cmocka_unit_test(a_chain_is_covered_as_often_as_promised),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
