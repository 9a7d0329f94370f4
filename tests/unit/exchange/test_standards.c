#include "senbetsu/base/utf8.h"
#include "senbetsu/core/judgement.h"
#include "senbetsu/core/standard.h"
#include "senbetsu/exchange/exchange.h"
#include "support/import_bench.h"
#include "support/test.h"

static void with_scale(const char *scale, char text[sizeof small_standard + 8])
{
    const char *rest = strstr(small_standard, "scale = 1-5") + strlen("scale = 1-5");
    int head = (int)(strstr(small_standard, "scale = 1-5") - small_standard);
    snprintf(text, sizeof small_standard + 8, "%.*sscale = %s%s", head, small_standard, scale,
             rest);
}

static void test_a_change_is_a_new_version(void **state)
{
    struct small_ledger *small = *state;
    struct standard_version version;
    struct err err;
    char text[sizeof small_standard + 8];
    take_text(small, import_standard, small_standard, 0, 0, 1);
    with_scale("1-10", text); /* nothing has been judged by it yet */
    take_text(small, import_standard, text, 0, 1, 0);
    assert_ok(standard_named(small->ledger, "plain-first", &version, &err), &err);
    assert_int_equal(version.version, 2);
    assert_int_equal(version.standard.highest, 10);
    assert_int_equal(version.origin, ORIGIN_IMPORTED);
}

static void test_fish_that_were_judged_keep_their_scale(void **state)
{
    struct small_ledger *small = *state;
    char text[sizeof small_standard + 8];
    take_text(small, import_fish, "spawning,stage,bowl,fish,body,white\nK1,first,1,1,3,3\n", 1, 0,
              0);
    with_scale("1-10", text);
    refuse_text(small, import_standard, text, "on the scale 1-5; a standard on another scale");
}

static void test_the_line_is_named(void **state)
{
    struct small_ledger *small = *state;
    char text[sizeof small_standard + 8];
    with_scale("5-1", text);
    refuse_text(small, import_standard, text, "f.csv, line 5: ");
}

static void parse(const struct starting_standard *source, struct standard *ret)
{
    struct err err;
    assert_ok(standard_parse(source->text, source->length, source->file, ret, &err), &err);
}

static void test_every_one_reads_and_round_trips(void **state)
{
    (void)state;
    assert_int_equal(starting_standard_count, 17);
    for (int i = 0; i < starting_standard_count; i++) {
        struct standard read, again;
        parse(&starting_standards[i], &read);
        struct text text;
        text_init(&text);
        standard_write(&read, &text);
        struct err err;
        assert_ok(standard_parse(text.data, text.length, "written", &again, &err), &err);
        assert_true(standard_equal(&read, &again));
        text_done(&text);
    }
}

/* Weights of body, ground with colour, and pattern add up to 100, so that a weight is a share. */
static void test_weights_are_shares(void **state)
{
    (void)state;
    for (int i = 0; i < starting_standard_count; i++) {
        struct standard standard;
        parse(&starting_standards[i], &standard);
        int sum = 0;
        for (int a = 0; a < standard.aspect_count; a++)
            sum += standard.aspects[a].weight;
        assert_int_equal(sum, 100);
    }
}

/* A typical fish is held, or just kept where about half of all are: never a reject. */
static void test_a_typical_fish_is_no_reject(void **state)
{
    (void)state;
    for (int i = 0; i < starting_standard_count; i++) {
        struct standard standard;
        parse(&starting_standards[i], &standard);
        struct judgement judgement;
        judgement_init(&judgement);
        for (int a = 0; a < standard.aspect_count; a++)
            judgement.scores[a] = (int8_t)standard.typical;
        struct decision decision = judgement_decide(&standard, &judgement);
        bool half = standard_serves(&standard, "Kikusui") || standard_serves(&standard, "Ogon");
        bool kept = half && standard.stage == STAGE_HARVEST;
        assert_int_equal(decision.verdict, kept ? VERDICT_KEEP : VERDICT_HOLD);
    }
}

/* Fits the sheet: short labels, ten faults on the keypad's digits, and a note on where it is from.
 */
static void test_fits_the_sheet(void **state)
{
    (void)state;
    for (int i = 0; i < starting_standard_count; i++) {
        struct standard standard;
        parse(&starting_standards[i], &standard);
        bool early = standard.stage <= STAGE_FIRST; /* little is there to be seen yet */
        assert_in_range(standard.aspect_count, early ? 1 : 7, 11);
        assert_in_range(standard.fault_count, early ? 2 : 6, 10);
        assert_true(strstr(standard.note, "starting point") != NULL);
        for (int a = 0; a < standard.aspect_count; a++)
            assert_true(utf8_count(standard.aspects[a].label) <= 26);
        for (int f = 0; f < standard.fault_count; f++)
            assert_true(utf8_count(standard.faults[f].label) <= 26);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_change_is_a_new_version, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_fish_that_were_judged_keep_their_scale,
                                        small_ledger_setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_the_line_is_named, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test(test_every_one_reads_and_round_trips),
        cmocka_unit_test(test_weights_are_shares),
        cmocka_unit_test(test_a_typical_fish_is_no_reject),
        cmocka_unit_test(test_fits_the_sheet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
