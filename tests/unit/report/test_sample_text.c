#include "senbetsu/report/sample_text.h"
#include "support/test.h"

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reads_measures),           cmocka_unit_test(takes_no_other_measures),
        cmocka_unit_test(reads_samples_and_scoops), cmocka_unit_test(takes_no_other_samples),
        cmocka_unit_test(reads_samples_in_a_line),  cmocka_unit_test(takes_no_other_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
