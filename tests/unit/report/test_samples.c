#include "senbetsu/report/samples.h"
#include "support/test.h"

#include <math.h>

static void reads_measures(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        double measure;
    } cases[] = {{"316.8", 316.8}, {"5", 5}, {"0.0625", 0.0625}, {"1000000000", 1e9}, {"007", 7}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        double measure;
        assert_true(measure_from_text(cases[i].text, &measure));
        assert_true(measure == cases[i].measure);
    }
}

static void takes_no_other_measures(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "",   "0",   "0.0", "-1",    "+1",           ".5",
        "5.", "1,5", "1e3", "0x10",  "nan",          "inf",
        " 5", "5 ",  "5 g", "1.2.3", "1000000000.1", "0000000000000000000000001",
    };
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        double measure = 77;
        assert_false(measure_from_text(refused[i], &measure));
        assert_true(measure == 77);
    }
}

static void reads_samples_and_scoops(void **state)
{
    (void)state;
    struct sample sample;
    bool measured;
    assert_true(sample_from_text("200:10.5", &sample, &measured));
    assert_int_equal(sample.fish, 200);
    assert_true(sample.measure == 10.5 && measured);
    assert_true(sample_from_text("480", &sample, &measured));
    assert_int_equal(sample.fish, 480);
    assert_true(sample.measure == 1 && !measured);
    assert_true(sample_from_text("0", &sample, &measured));
}

static void takes_no_other_samples(void **state)
{
    (void)state;
    static const char *const refused[] = {
        "",        ":",
        "200:",    ":5",
        "-1",      "1.5",
        "200:0",   "200:-1",
        "200:1:2", "200:5g",
        "x:5",     "100000001",
        "200 :5",  "00000000000000000000000000000000000000001:5",
    };
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        struct sample sample = {.fish = 77};
        bool measured;
        assert_false(sample_from_text(refused[i], &sample, &measured));
        assert_int_equal(sample.fish, 77);
    }
}

static void reads_samples_in_a_line(void **state)
{
    (void)state;
    static const char *const lines[] = {"36:1.5 35:1.6 41:1.9", "36/1.5+35/1.6+41/1.9",
                                        " 36:1.5; 35/1.6  +41:1.9 "};
    struct sample samples[LINE_SAMPLES];
    bool measured;
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        measured = false;
        assert_int_equal(samples_from_text(lines[i], samples, &measured), 3);
        assert_true(measured);
        assert_int_equal(samples[2].fish, 41);
        assert_true(samples[2].measure == 1.9);
    }
    assert_int_equal(samples_from_text("480+530", samples, &measured), 2);
    assert_false(measured);
    assert_int_equal(samples[1].fish, 530);
}

static void takes_no_other_line(void **state)
{
    (void)state;
    static const char *const refused[] = {"",         " + ",       "36:1.5 35", "35 36:1.5",
                                          "36:1.5/2", "36:1.5,35", "36:x",      "36-1.5"};
    struct sample samples[LINE_SAMPLES];
    bool measured = true;
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
        assert_int_equal(samples_from_text(refused[i], samples, &measured), 0);
    assert_true(measured);
    char many[2 * LINE_SAMPLES + 3];
    for (int i = 0; i < LINE_SAMPLES + 1; i++)
        memcpy(many + 2L * i, "9+", 3);
    assert_int_equal(samples_from_text(many, samples, &measured), 0);
    many[2 * LINE_SAMPLES] = '\0';
    assert_int_equal(samples_from_text(many, samples, &measured), LINE_SAMPLES);
}

static struct count_result result_of(enum method method, const char *samples_text,
                                     const char *total)
{
    static struct sample samples[LINE_SAMPLES];
    const struct count_entry entry = {method, samples_text, total, ""};
    struct count_result result = {.total = 0};
    enum count_line wrong;
    struct err err;
    assert_ok(count_from_entry(&entry, samples, &result, &wrong, &err), &err);
    return result;
}

static struct count stated(const struct count_result *result)
{
    struct count count;
    struct err err;
    assert_ok(count_to_state(result, &count, &err), &err);
    return count;
}

/* Published counts: eggs by weight, 112 in 5.0 g of three samples, 316.8 g in all: 7,096 (the ratio
 * of the sums; the mean of the ratios would be 7,123); fry by water, 300 × 400 ÷ 12 = 10,000. */
static void published_counts_come_out(void **state)
{
    (void)state;
    struct count_result result = result_of(METHOD_WEIGHED, "36/1.5+35/1.6+41/1.9", "316.8");
    struct count count = stated(&result);
    assert_int_equal(count.number, 7096);
    assert_int_equal(count.method, METHOD_WEIGHED);
    assert_in_range(count.cv, 32500, 32700);
    result = result_of(METHOD_DISPLACED, "300:12", "400");
    count = stated(&result);
    assert_int_equal(count.number, 10000);
    assert_int_equal(count.cv, 0);
    assert_false(result.counting.has_interval);
}

/* Scoops that were all counted leave no doubt, and samples that are all alike hardly any. */
static void scoops_are_counted_or_estimated(void **state)
{
    (void)state;
    struct count_result result = result_of(METHOD_SCOOPED, "480 530 505", "60");
    struct count count = stated(&result);
    assert_int_equal(count.number, 30300);
    assert_int_equal(count.method, METHOD_SCOOPED);
    assert_true(count.cv > 0);
    result = result_of(METHOD_SCOOPED, "480 530 505", "3");
    count = stated(&result);
    assert_int_equal(count.number, 1515);
    assert_int_equal(count.method, METHOD_COUNTED);
    assert_int_equal(count.cv, 0);
    result = result_of(METHOD_SCOOPED, "500 500", "10");
    assert_int_equal(stated(&result).cv, 1);
}

static void assert_wrong(enum method method, const char *samples_text, const char *total,
                         const char *within, enum count_line line, const char *part)
{
    struct sample samples[LINE_SAMPLES];
    const struct count_entry entry = {method, samples_text, total, within};
    struct count_result result;
    enum count_line wrong = COUNT_SAMPLES;
    struct err err;
    assert_says(count_from_entry(&entry, samples, &result, &wrong, &err), &err, part);
    assert_int_equal(wrong, line);
}

static void a_wrong_line_says_what_was_expected(void **state)
{
    (void)state;
    assert_wrong(METHOD_WEIGHED, "480 530", "5", "", COUNT_SAMPLES, "fish:weight of each sample");
    assert_wrong(METHOD_DISPLACED, "", "5", "", COUNT_SAMPLES, "fish:water of each sample");
    assert_wrong(METHOD_SCOOPED, "36:1.5", "5", "", COUNT_SAMPLES, "Enter the fish of each scoop");
    assert_wrong(METHOD_WEIGHED, "36:1.5", "", "", COUNT_TOTAL, "what all fish weigh");
    assert_wrong(METHOD_DISPLACED, "36:1.5", "0", "", COUNT_TOTAL, "what all fish displace");
    assert_wrong(METHOD_SCOOPED, "480 530", "1", "", COUNT_TOTAL, "the 2 counted ones");
    assert_wrong(METHOD_SCOOPED, "480 530", "2.5", "", COUNT_TOTAL, "number of all scoops");
    assert_wrong(METHOD_WEIGHED, "36:1.5", "5", "5.", COUNT_WITHIN, "percentage");
}

static void the_wanted_precision_is_in_per_cent(void **state)
{
    (void)state;
    struct sample samples[LINE_SAMPLES];
    const struct count_entry entry = {METHOD_WEIGHED, "36:1.5 35:1.6 41:1.9", "316.8", "5"};
    struct count_result result;
    enum count_line wrong;
    struct err err;
    assert_ok(count_from_entry(&entry, samples, &result, &wrong, &err), &err);
    assert_true(fabs(result.within - 0.05) < 1e-12);
    assert_int_equal(counting_more_samples(&result.counting, result.within), 5);
}

static void no_fish_and_too_many_cannot_be_stated(void **state)
{
    (void)state;
    struct count count;
    struct err err;
    struct count_result result = result_of(METHOD_SCOOPED, "0 0", "60");
    assert_says(count_to_state(&result, &count, &err), &err, "no fish in the samples");
    result = result_of(METHOD_SCOOPED, "99999 99999", "99999");
    assert_says(count_to_state(&result, &count, &err), &err, "at most 100000000 fish");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_measures),
        cmocka_unit_test(takes_no_other_measures),
        cmocka_unit_test(reads_samples_and_scoops),
        cmocka_unit_test(takes_no_other_samples),
        cmocka_unit_test(reads_samples_in_a_line),
        cmocka_unit_test(takes_no_other_line),

        cmocka_unit_test(published_counts_come_out),
        cmocka_unit_test(scoops_are_counted_or_estimated),
        cmocka_unit_test(a_wrong_line_says_what_was_expected),
        cmocka_unit_test(the_wanted_precision_is_in_per_cent),
        cmocka_unit_test(no_fish_and_too_many_cannot_be_stated),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
