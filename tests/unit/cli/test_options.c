#include "private.h"
#include "senbetsu/core/count.h"
#include "support/test.h"

static bool parse(const char *line, struct options *ret, struct err *err)
{
    static char words[256];
    const char *list[16];
    int count = 0;
    snprintf(words, sizeof words, "%s", line);
    for (char *word = strtok(words, " "); word != NULL; word = strtok(NULL, " "))
        list[count++] = word;
    return options_parse(count, list, ret, err);
}

static void test_any_order(void **state)
{
    (void)state;
    static const char *const lines[] = {
        "pass --spawning K1 --stage first --places 20 --csv",
        "--csv --stage=first pass --places=20 --spawning=K1",
        "--spawning K1 --places 20 --csv --stage first pass",
    };
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct options options;
        struct err err;
        assert_ok(parse(lines[i], &options, &err), &err);
        assert_string_equal(options.command, "pass");
        assert_string_equal(options.values[OPTION_SPAWNING], "K1");
        assert_int_equal(options_stage(&options), STAGE_FIRST);
        assert_int_equal(options_whole(&options, OPTION_PLACES, -1), 20);
        assert_true(options.given[OPTION_CSV]);
        assert_false(options.given[OPTION_DRY_RUN]);
        assert_int_equal(options.argument_count, 0);
    }
}

static void test_a_value_that_may_be_left_out(void **state)
{
    (void)state;
    struct options options;
    struct err err;
    assert_ok(parse("list --printer", &options, &err), &err);
    assert_true(options.given[OPTION_PRINTER]);
    assert_null(options.values[OPTION_PRINTER]);
    assert_ok(parse("list --printer office --csv", &options, &err), &err);
    assert_string_equal(options.values[OPTION_PRINTER], "office");
    assert_ok(parse("--printer list", &options, &err), &err); /* the command, not a printer */
    assert_string_equal(options.command, "list");
}

static void test_words_after_two_dashes(void **state)
{
    (void)state;
    struct options options;
    struct err err;
    assert_ok(parse("import fish -- --csv", &options, &err), &err);
    assert_int_equal(options.argument_count, 2);
    assert_string_equal(options.arguments[1], "--csv");
    assert_false(options.given[OPTION_CSV]);
}

static void test_samples_add_up(void **state)
{
    (void)state;
    struct options options;
    struct err err;
    assert_ok(
        parse("count --sample 36:1.5 weighed --sample=35:1.6 --sample 41:1.9", &options, &err),
        &err);
    assert_int_equal(options.sample_count, 3);
    assert_string_equal(options.samples[0], "36:1.5");
    assert_string_equal(options.samples[1], "35:1.6");
    assert_string_equal(options.samples[2], "41:1.9");
    assert_true(options.given[OPTION_SAMPLE]);
    assert_int_equal(options.argument_count, 1);
}

static void test_nothing_at_all(void **state)
{
    (void)state;
    struct options options;
    struct err err;
    assert_ok(options_parse(0, NULL, &options, &err), &err);
    assert_null(options.command);
    assert_int_equal(options_whole(&options, OPTION_PLACES, -1), -1);
}

static void test_what_is_wrong_is_named(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"pass --fast", "--fast"},
        {"pass -x", "-x"},
        {"pass --csv --csv", "given twice"},
        {"pass --csv=1", "takes no value"},
        {"pass --lot", "--lot L"},
        {"pass --lot --csv", "--lot L"},
        {"pass --places x", "\"x\""},
        {"pass --places 1000001", "0 to 1000000"},
        {"pass --stage late", "harvest"},
        {"list --date 2026-2-31", "2026-11-05"},
        {"--judge a;b check", "a;b"},
        {"count --sample 5:", "\"5:\""},
        {"count --total 0", "over 0"},
        {"count --scoops 0", "from 1"},
        {"count --within 1.1", "0.001 to 1"},
        {"count --length 2001", "2000"},
        {"count --days 0", "10000"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct options options;
        struct err err;
        assert_says(parse(cases[i][0], &options, &err), &err, cases[i][1]);
        assert_int_equal(err.code, ERR_USAGE);
    }
}

/* The help for --stage and --places is text; it must say what the tables say. */
static void test_the_help_agrees_with_the_tables(void **state)
{
    (void)state;
    char words[128], most[16];
    term_list(stage_terms, STAGE_COUNT, words, sizeof words);
    assert_string_equal(option_rows[OPTION_STAGE].summary, words);
    snprintf(most, sizeof most, "%d", PLACES_MOST);
    assert_non_null(strstr(option_rows[OPTION_PLACES].expected, most));
    snprintf(most, sizeof most, "%d", FISH_MOST);
    assert_non_null(strstr(option_rows[OPTION_SCOOPS].expected, most));
    snprintf(most, sizeof most, "%d", DAYS_MOST);
    assert_non_null(strstr(option_rows[OPTION_DAYS].expected, most));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_any_order),
        cmocka_unit_test(test_a_value_that_may_be_left_out),
        cmocka_unit_test(test_words_after_two_dashes),
        cmocka_unit_test(test_samples_add_up),
        cmocka_unit_test(test_nothing_at_all),
        cmocka_unit_test(test_what_is_wrong_is_named),
        cmocka_unit_test(test_the_help_agrees_with_the_tables),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
