#include "senbetsu/base/utf8.h"
#include "senbetsu/core/judgement.h"
#include "senbetsu/core/standard.h"
#include "senbetsu/exchange/starting_standards.h"
#include "support/test.h"

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
        cmocka_unit_test(test_every_one_reads_and_round_trips),
        cmocka_unit_test(test_weights_are_shares),
        cmocka_unit_test(test_a_typical_fish_is_no_reject),
        cmocka_unit_test(test_fits_the_sheet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
