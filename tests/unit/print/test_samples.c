#include "senbetsu/print/samples.h"
#include "support/test.h"

static const struct sample eggs[] = {{36, 1.5}, {35, 1.6}, {41, 1.9}};
static const struct sample fry[] = {{300, 12}};
static const struct sample scoops[] = {{480, 1}, {530, 1}, {505, 1}, {461, 1}};
static const struct sample empty[] = {{0, 1}, {0, 1}};

static struct count_result weighed(double within)
{
    return (struct count_result){.method = METHOD_WEIGHED,
                                 .samples = eggs,
                                 .sample_count = 3,
                                 .total = 316.8,
                                 .counting = counting_measured(eggs, 3, 316.8),
                                 .within = within};
}

static struct count_result displaced(double within)
{
    return (struct count_result){.method = METHOD_DISPLACED,
                                 .samples = fry,
                                 .sample_count = 1,
                                 .total = 400,
                                 .counting = counting_measured(fry, 1, 400),
                                 .within = within};
}

static struct count_result scooped(const struct sample *samples, int count, int all, double within)
{
    return (struct count_result){.method = METHOD_SCOOPED,
                                 .samples = samples,
                                 .sample_count = count,
                                 .total = all,
                                 .counting = counting_scooped(samples, count, all),
                                 .within = within};
}

static void assert_prints(struct count_result result, const char *expected)
{
    struct text out;
    text_init(&out);
    count_result_print(&result, &out);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void assert_csv(struct count_result result, const char *expected)
{
    struct text out;
    text_init(&out);
    count_result_csv(&result, &out);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void prints_samples_that_were_weighed(void **state)
{
    (void)state;
    assert_prints(weighed(0.05), "7096 fish, weighed\n"
                                 "  112 fish in 3 samples weigh 5, all fish 316.8\n"
                                 "  1000 fish weigh 44.64286\n"
                                 "  95 % interval 6100 to 8092 fish, cv 0.0326\n"
                                 "  5 % to either side takes 5 more samples like these\n");
    assert_prints(weighed(0.2),
                  "7096 fish, weighed\n"
                  "  112 fish in 3 samples weigh 5, all fish 316.8\n"
                  "  1000 fish weigh 44.64286\n"
                  "  95 % interval 6100 to 8092 fish, cv 0.0326\n"
                  "  that is within 20 % to either side; no more samples are needed\n");
}

static void a_single_sample_has_no_interval(void **state)
{
    (void)state;
    assert_prints(displaced(0.05),
                  "10000 fish, displaced\n"
                  "  300 fish in 1 sample displace 12, all fish 400\n"
                  "  1000 fish displace 40\n"
                  "  no interval: a single sample does not say how much samples differ; take\n"
                  "  three or more\n"
                  "  how many samples 5 % to either side takes is not known yet\n");
}

static void prints_scoops(void **state)
{
    (void)state;
    assert_prints(scooped(scoops, 4, 60, 0.04),
                  "29640 fish, scooped\n"
                  "  1976 fish in the 4 of 60 scoops that were counted, 494 to a scoop\n"
                  "  95 % interval 26872 to 32408 fish, cv 0.0293\n"
                  "  4 % to either side takes 6 more samples like these\n");
    assert_prints(scooped(scoops, 4, 4, 0),
                  "1976 fish, scooped\n"
                  "  1976 fish in the 4 of 4 scoops that were counted, 494 to a scoop\n"
                  "  every scoop was counted, so the number is exact\n");
    assert_prints(scooped(empty, 2, 10, 0),
                  "0 fish, scooped\n"
                  "  0 fish in the 2 of 10 scoops that were counted, 0 to a scoop\n"
                  "  no interval: there are no fish in the samples\n");
}

static void writes_csv(void **state)
{
    (void)state;
    assert_csv(weighed(0), "number,low,high,cv\n7096,6100.289639,8092.350361,0.03262143717\n");
    assert_csv(weighed(0.05), "number,low,high,cv,more_samples\n"
                              "7096,6100.289639,8092.350361,0.03262143717,5\n");
    assert_csv(displaced(0), "number,low,high,cv\n10000,,,\n");
    assert_csv(displaced(0.05), "number,low,high,cv,more_samples\n10000,,,,\n");
    assert_csv(scooped(scoops, 4, 4, 0), "number,low,high,cv\n1976,1976,1976,0\n");
    assert_csv(scooped(empty, 2, 10, 0), "number,low,high,cv\n0,,,\n");
}

/* 500 g and 300 mm: 1.852; 250 to 500 g in 10 days: 6.931 % a day. */
static void tells_condition_and_growth(void **state)
{
    (void)state;
    static const struct sample carp[] = {{4, 2000}};
    struct count_result result = {.method = METHOD_WEIGHED,
                                  .samples = carp,
                                  .sample_count = 1,
                                  .total = 30000,
                                  .counting = counting_measured(carp, 1, 30000),
                                  .length_mm = 300,
                                  .before = 250,
                                  .days = 10};
    assert_prints(result,
                  "60 fish, weighed\n"
                  "  4 fish in 1 sample weigh 2000, all fish 30000\n"
                  "  1000 fish weigh 500000\n"
                  "  no interval: a single sample does not say how much samples differ; take\n"
                  "  three or more\n"
                  "  at 500 g and 300 mm: size class 30 (bu), condition factor 1.852\n"
                  "  growth 6.93 % a day over 10 days\n");
    assert_csv(result, "number,low,high,cv,condition_factor,growth_per_day\n"
                       "60,,,,1.851851852,6.931471806\n");
    static const struct sample none[] = {{0, 2000}};
    result.samples = none;
    result.counting = counting_measured(none, 1, 30000);
    assert_csv(result, "number,low,high,cv,condition_factor,growth_per_day\n0,,,,,\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_samples_that_were_weighed),
        cmocka_unit_test(a_single_sample_has_no_interval),
        cmocka_unit_test(prints_scoops),
        cmocka_unit_test(writes_csv),
        cmocka_unit_test(tells_condition_and_growth),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
