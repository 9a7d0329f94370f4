#include "support/sheet_bench.h"
#include "support/test.h"

static void takes_back_one_score_after_the_other(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_SCORE, 4);
    bench_do(bench, COMMAND_ASPECT, BODY);
    bench_do(bench, COMMAND_SCORE, 2);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench->sheet.aspect, BODY);
    assert_int_equal(bench_front(bench)->judgement.scores[BODY], SCORE_NONE);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(stroke->undoes, 2);
    assert_int_equal(stroke->entry_count, 0);
    assert_int_equal(stroke->look, 1);
    assert_string_equal(bench->port.place.aspect, "body");
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench_front(bench)->look, 0);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    assert_int_equal(bench->port.stroke_count, 4);
    bench_free(bench);
}

static void brings_the_fish_before_back_to_the_front(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_int_equal(bench_front(bench)->number, 3);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.fish_count, 2);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_true(bench->sheet.last == SIZE_MAX);
    assert_non_null(strstr(bench->sheet.message, "fish 2"));
    assert_int_equal(bench->port.standings[1].verdict, VERDICT_OPEN);
    assert_int_equal(bench->sheet.round.tally.judged, 1);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(bench_front(bench)->judgement.scores[WHITE], 4);
    bench_free(bench);
}

/* What a clearing took back is not a correction any more: the fish never was put away. */
static void what_is_judged_after_an_undo_is_no_correction(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_UNDO, 0);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_false(fake_port_last(&bench->port)->correction);
    bench_free(bench);
}

static void an_undone_correction_shows_the_verdict_it_had(void **state)
{
    (void)state;
    struct bench *bench = bench_new(2);
    bench_judge_fish(bench, 4);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, WHITE);
    bench_do(bench, COMMAND_CLEAR, 0);
    bench_do(bench, COMMAND_SCORE, 1);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_REJECT);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_false(bench->sheet.full);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_true(bench->sheet.full);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    bench_free(bench);
}

static void goes_on_after_the_sheet_was_left(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_SCORE, 4);
    bench_do(bench, COMMAND_UNDO, 0);
    bench_reopen(bench, false);
    assert_int_equal(bench->sheet.undoable_count, 2);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_front(bench)->number, 1);
    bench_do(bench, COMMAND_UNDO, 0);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    bench_free(bench);
}

static void takes_lengths_and_notes_back_without_moving_the_hand(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, PATTERN);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_LENGTH);
    bench_type(bench, "145");
    bench_scan(bench, "392145000123456");
    bench_do(bench, COMMAND_UNDO, 0);
    assert_string_equal(bench_front(bench)->tag, "");
    assert_int_equal(bench_front(bench)->length_mm, 145);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_front(bench)->length_mm, 0);
    assert_int_equal(bench->sheet.aspect, PATTERN);
    bench_free(bench);
}

static void the_first_stroke_of_a_second_look_leaves_the_fish_waiting(void **state)
{
    (void)state;
    struct bench *bench = bench_new(1);
    bench_do(bench, COMMAND_FAULT, WOUND);
    bench_judge_fish(bench, 4);
    bench_reopen(bench, true);
    bench_do(bench, COMMAND_SCORE, 2);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(fake_port_last(&bench->port)->undoes, 4);
    assert_int_equal(bench_front(bench)->judgement.scores[WHITE], SCORE_NONE);
    assert_int_equal(bench_front(bench)->earlier.scores[WHITE], 4);
    assert_int_equal(bench->port.standings[0].verdict, VERDICT_HOLD);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(fake_port_last(&bench->port)->look, 2);
    assert_int_equal(bench->port.standings[0].verdict, VERDICT_KEEP);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(takes_back_one_score_after_the_other),
        cmocka_unit_test(brings_the_fish_before_back_to_the_front),
        cmocka_unit_test(what_is_judged_after_an_undo_is_no_correction),
        cmocka_unit_test(an_undone_correction_shows_the_verdict_it_had),
        cmocka_unit_test(goes_on_after_the_sheet_was_left),
        cmocka_unit_test(takes_lengths_and_notes_back_without_moving_the_hand),
        cmocka_unit_test(the_first_stroke_of_a_second_look_leaves_the_fish_waiting),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
