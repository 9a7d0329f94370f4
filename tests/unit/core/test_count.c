#include "senbetsu/core/count.h"
#include "support/test.h"

static void an_error_belongs_to_an_estimate(void **state)
{
    (void)state;
    struct err err;
    assert_ok(count_check(&(struct count){100, METHOD_SCOOPED, 50000}, &err), &err);
    assert_ok(count_check(&(struct count){100, METHOD_UNSAID, 50000}, &err), &err);
    assert_ok(count_check(&(struct count){NOT_COUNTED, METHOD_UNSAID, 0}, &err), &err);
    assert_says(count_check(&(struct count){100, METHOD_COUNTED, 1}, &err), &err, "have no error");
    assert_says(count_check(&(struct count){NOT_COUNTED, METHOD_UNSAID, 1}, &err), &err,
                "Enter the number first.");
    assert_says(count_check(&(struct count){NOT_COUNTED, METHOD_WEIGHED, 0}, &err), &err,
                "Enter the number first.");
    assert_true(count_error_unknown(&(struct count){100, METHOD_ESTIMATED, 0}));
    assert_false(count_error_unknown(&(struct count){100, METHOD_ESTIMATED, 1}));
    assert_false(count_error_unknown(&(struct count){100, METHOD_COUNTED, 0}));
    assert_false(count_error_unknown(&(struct count){NOT_COUNTED, METHOD_ESTIMATED, 0}));
    assert_true(count_is_estimate(&(struct count){100, METHOD_SCOOPED, 50000}));
    assert_false(count_is_estimate(&(struct count){100, METHOD_COUNTED, 0}));
    assert_false(count_is_estimate(&(struct count){0, METHOD_SCOOPED, 50000}));
}

static struct scoop measured(const int64_t *samples, int count)
{
    struct scoop scoop = {.id = 0};
    assert_true(scoop_measure(samples, count, &scoop));
    return scoop;
}

/* 48, 52 and 50: mean 50, s = 2, standard error 2/√3 = 1.1547, of 50: 0.023094. */
static void test_mean_and_error(void **state)
{
    static const int64_t samples[] = {48, 52, 50};
    (void)state;
    struct scoop scoop = measured(samples, 3);
    assert_int_equal(scoop.fish, 150);
    assert_int_equal(scoop_fish(&scoop, 1), 50);
    assert_int_equal(scoop_fish(&scoop, 7), 350);
    assert_int_equal(scoop_cv(&scoop), 23094);
}

/* 10, 11 and 12: s/mean = 9.09 %, of the mean 5.25 %. */
static void test_published_spread(void **state)
{
    static const int64_t samples[] = {10, 11, 12};
    (void)state;
    struct scoop scoop = measured(samples, 3);
    assert_int_equal(scoop_cv(&scoop), 52486);
}

static void test_one_scoop_has_no_error(void **state)
{
    static const int64_t samples[] = {500};
    (void)state;
    struct scoop scoop = measured(samples, 1);
    assert_int_equal(scoop_fish(&scoop, 600), 300000);
    assert_int_equal(scoop_cv(&scoop), 0);
}

static void test_equal_scoops_have_the_least(void **state)
{
    static const int64_t samples[] = {7, 7, 7, 7};
    (void)state;
    struct scoop scoop = measured(samples, 4);
    assert_int_equal(scoop_cv(&scoop), 1);
}

/* The mean is the ratio of the sums, rounded once, for all scoops together. */
static void test_rounds_the_whole_not_the_scoop(void **state)
{
    static const int64_t samples[] = {10, 11, 10};
    (void)state;
    struct scoop scoop = measured(samples, 3);
    assert_int_equal(scoop_fish(&scoop, 1), 10);
    assert_int_equal(scoop_fish(&scoop, 3), 31);
    assert_int_equal(scoop_fish(&scoop, 300), 3100);
}

static void test_largest_scoops_do_not_overflow(void **state)
{
    int64_t samples[SCOOP_SAMPLES];
    (void)state;
    for (int i = 0; i < SCOOP_SAMPLES; i++)
        samples[i] = i % 2 == 0 ? SCOOP_MOST : 1;
    struct scoop scoop = measured(samples, SCOOP_SAMPLES);
    /* s/mean = √(20/19) · 0.99998, over √20. */
    assert_in_range(scoop_cv(&scoop), 229400, 229430);
}

static void test_refuses_what_is_no_scoop(void **state)
{
    static const int64_t none[] = {0}, many[] = {SCOOP_MOST + 1}, good[SCOOP_SAMPLES + 1] = {1};
    (void)state;
    struct scoop scoop;
    assert_false(scoop_measure(none, 1, &scoop));
    assert_false(scoop_measure(many, 1, &scoop));
    assert_false(scoop_measure(good, 0, &scoop));
    assert_false(scoop_measure(good, SCOOP_SAMPLES + 1, &scoop));
}

static void a_count_says_how_sure_it_is(void **state)
{
    (void)state;
    char text[COUNT_TEXT_SIZE];
    const struct count counted = {1234, METHOD_COUNTED, 0}, weighed = {1234, METHOD_WEIGHED, 24600},
                       guessed = {1234, METHOD_ESTIMATED, 0};
    assert_string_equal(count_text(&counted, text), "1234");
    assert_string_equal(count_text(&weighed, text), "1234 ±2.5 %");
    assert_string_equal(count_text(&guessed, text), "about 1234");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_error_belongs_to_an_estimate),
        cmocka_unit_test(test_mean_and_error),
        cmocka_unit_test(test_published_spread),
        cmocka_unit_test(test_one_scoop_has_no_error),
        cmocka_unit_test(test_equal_scoops_have_the_least),
        cmocka_unit_test(test_rounds_the_whole_not_the_scoop),
        cmocka_unit_test(test_largest_scoops_do_not_overflow),
        cmocka_unit_test(test_refuses_what_is_no_scoop),
        cmocka_unit_test(a_count_says_how_sure_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
