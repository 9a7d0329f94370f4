#include "support/sheet_bench.h"
#include "support/test.h"

#define TAG_A "392145000123456"
#define TAG_B "392145000123457"

static void a_scan_tags_the_fish_in_front(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_string_equal(bench_front(bench)->tag, TAG_A);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_int_equal(fake_port_last(&bench->port)->entries[0].kind, ENTRY_TAG);
    assert_int_equal(bench->sheet.aspect, HEAD);
    for (int i = 0; i < BENCH_ASPECTS; i++)
        assert_int_equal(bench_front(bench)->judgement.scores[i], SCORE_NONE);
    bench_free(bench);
}

static void the_same_scan_again_records_nothing(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_int_equal(bench->port.stroke_count, 1);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_non_null(strstr(bench->sheet.message, "already"));
    bench_scan(bench, TAG_B);
    assert_string_equal(bench_front(bench)->tag, TAG_B);
    assert_int_equal(bench->port.stroke_count, 2);
    bench_free(bench);
}

static void a_number_no_transponder_has_is_recorded_and_said(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, "123456789012345");
    assert_false(bench->effects.alert);
    assert_string_equal(bench_front(bench)->tag, "123456789012345");
    assert_non_null(strstr(bench->sheet.message, "no animal transponder"));
    bench_scan(bench, TAG_A);
    assert_string_equal(bench->sheet.message, "");
    bench_free(bench);
}

static void a_known_tag_brings_its_fish_to_the_front(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_scan(bench, TAG_A);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_scan(bench, TAG_A);
    assert_false(bench->effects.alert);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->port.place.number, 1);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    assert_non_null(strstr(bench->sheet.message, "fish 1"));
    assert_int_equal(bench->port.stroke_count, 3);
    bench_free(bench);
}

static void a_tag_of_another_bowl_is_refused(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    text_copy(bench->port.other_tag, CODE_SIZE, TAG_A);
    bench->port.other_bowl = 2;
    bench->port.other_number = 17;
    bench_scan(bench, TAG_A);
    assert_true(bench->effects.alert);
    assert_non_null(strstr(bench->sheet.message, "fish 17 of bowl 2"));
    assert_int_equal(bench->port.stroke_count, 0);
    bench_free(bench);
}

static void a_scan_leaves_what_is_being_typed_alone(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE_TEXT);
    bench_do(bench, COMMAND_TYPE, 'x');
    bench_scan(bench, TAG_A);
    bench_scan(bench, TAG_A);
    assert_string_equal(bench_front(bench)->tag, TAG_A);
    assert_int_equal(bench->sheet.mode, SHEET_NOTE_TEXT);
    assert_string_equal(bench->sheet.line, "x");
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_do(bench, COMMAND_TYPE, '7');
    bench_scan(bench, TAG_B);
    assert_string_equal(bench_front(bench)->tag, TAG_B);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_free(bench);
}

static void a_tag_can_be_typed_and_taken_away(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, " cell 4 ");
    assert_string_equal(bench_front(bench)->tag, "cell 4");
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, "a;b");
    assert_true(bench->effects.alert);
    assert_int_equal(bench->sheet.mode, SHEET_TAG);
    assert_string_equal(bench->sheet.line, "a;b");
    bench_do(bench, COMMAND_CANCEL, 0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, "");
    assert_string_equal(bench->sheet.message, "The tag is taken away; - brings it back.");
    assert_string_equal(bench_front(bench)->tag, "");
    assert_int_equal(bench->port.stroke_count, 2);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_TAG);
    bench_type(bench, "");
    assert_int_equal(bench->port.stroke_count, 2);
    assert_int_equal(bench->sheet.mode, SHEET_JUDGE);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_scan_tags_the_fish_in_front),
        cmocka_unit_test(the_same_scan_again_records_nothing),
        cmocka_unit_test(a_number_no_transponder_has_is_recorded_and_said),
        cmocka_unit_test(a_known_tag_brings_its_fish_to_the_front),
        cmocka_unit_test(a_tag_of_another_bowl_is_refused),
        cmocka_unit_test(a_scan_leaves_what_is_being_typed_alone),
        cmocka_unit_test(a_tag_can_be_typed_and_taken_away),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
