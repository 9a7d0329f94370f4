#include "support/sheet_bench.h"
#include "support/test.h"

static void assert_entry(const struct stroke *stroke, int index, enum entry_kind kind,
                         const char *what, int number)
{
    assert_in_range(index, 0, stroke->entry_count - 1);
    assert_int_equal(stroke->entries[index].kind, kind);
    assert_string_equal(stroke->entries[index].what, what);
    assert_int_equal(stroke->entries[index].number, number);
}

static void a_score_moves_the_hand_on(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, PATTERN);
    bench_do(bench, COMMAND_SCORE, 4);
    assert_int_equal(bench->sheet.aspect, BODY);
    bench_do(bench, COMMAND_SCORE, 4);
    assert_int_equal(bench->sheet.aspect, WHITE);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(stroke->entry_count, 1);
    assert_entry(stroke, 0, ENTRY_SCORE, "body", 4);
    assert_int_equal(stroke->judge, FAKE_JUDGE);
    assert_int_equal(stroke->look, 1);
    assert_int_equal(stroke->at_ms, bench->port.now_ms);
    assert_false(stroke->correction);
    assert_string_equal(bench->port.place.aspect, "white");
    assert_false(bench->port.standings[0].scored);
    bench_free(bench);
}

static void the_last_score_closes_in_the_same_stroke(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    for (int i = 0; i < BENCH_ASPECTS; i++)
        bench_do(bench, COMMAND_SCORE, 4);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(bench->port.stroke_count, BENCH_ASPECTS);
    assert_int_equal(stroke->entry_count, 2);
    assert_entry(stroke, 0, ENTRY_SCORE, "body", 4);
    assert_entry(stroke, 1, ENTRY_CLOSE, "", VERDICT_KEEP);
    assert_true(bench->sheet.last == 0);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    assert_int_equal(bench->sheet.last_decision.score, 75 * score_unit(&bench->standard));
    assert_int_equal(bench->port.standings[0].verdict, VERDICT_KEEP);
    assert_true(bench->port.standings[0].could_be_kept);
    /* The place is the fresh fish's: it is not in the ledger, but it is where the hand is. */
    assert_int_equal(bench_front(bench)->id, 0);
    assert_int_equal(bench->port.place.number, 2);
    assert_string_equal(bench->port.place.aspect, "white");
    bench_free(bench);
}

static void typical_is_one_stroke_for_all_open_aspects(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_SCORE, 5);
    bench_do(bench, COMMAND_TYPICAL, 0);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(bench->port.stroke_count, 2);
    assert_int_equal(stroke->entry_count, 4);
    assert_entry(stroke, 0, ENTRY_SCORE, "white", 3);
    assert_entry(stroke, 1, ENTRY_SCORE, "pattern", 3);
    assert_entry(stroke, 2, ENTRY_SCORE, "body", 3);
    assert_entry(stroke, 3, ENTRY_CLOSE, "", VERDICT_KEEP);
    bench_free(bench);
}

static void a_knock_out_closes_and_its_taking_away_reopens(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_SCORE, 4);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_REJECT);
    assert_int_equal(bench->sheet.last_decision.which, SPINE);
    bench_do(bench, COMMAND_EARLIER, 0);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_false(bench_front(bench)->closed);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(bench->sheet.fish_count, 1);
    assert_true(bench->sheet.last == SIZE_MAX);
    /* It had been closed before: what completes it is still part of the correction. */
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(bench_front(bench)->number, 2);
    bench_free(bench);
}

static void other_faults_toggle_and_stay(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, PATTERN);
    bench_do(bench, COMMAND_FAULT, EYE);
    bench_do(bench, COMMAND_FAULT, WOUND);
    assert_int_equal(bench->sheet.aspect, PATTERN);
    assert_int_equal(bench_front(bench)->judgement.faults, 1u << EYE | 1u << WOUND);
    bench_do(bench, COMMAND_FAULT, EYE);
    assert_entry(fake_port_last(&bench->port), 0, ENTRY_FAULT, "eye", 0);
    assert_int_equal(bench_front(bench)->judgement.faults, 1u << WOUND);
    assert_int_equal(bench_front(bench)->number, 1);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_HOLD);
    bench_refused(bench, COMMAND_FAULT, BENCH_FAULTS, "3 faults");
    bench_refused(bench, COMMAND_FAULT, -1, "3 faults");
    bench_free(bench);
}

static void a_score_off_the_scale_is_refused(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_refused(bench, COMMAND_SCORE, 6, "from 1 to 5");
    bench_refused(bench, COMMAND_SCORE, 0, "from 1 to 5");
    assert_int_equal(bench->port.stroke_count, 0);
    bench_free(bench);
}

static void ten_is_typed_with_zero(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench->sheet.standard.highest = 10;
    bench_do(bench, COMMAND_SCORE, 0);
    assert_entry(fake_port_last(&bench->port), 0, ENTRY_SCORE, "white", 10);
    assert_int_equal(bench_front(bench)->judgement.scores[WHITE], 10);
    bench_free(bench);
}

static void a_correction_closes_again_and_stays(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_refused(bench, COMMAND_SCORE, 1, "go to the aspect");
    bench_refused(bench, COMMAND_CLEAR, 0, "go to the aspect");
    bench_do(bench, COMMAND_ASPECT, WHITE);
    bench_do(bench, COMMAND_SCORE, 1);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_true(stroke->correction);
    assert_entry(stroke, 0, ENTRY_SCORE, "white", 1);
    assert_entry(stroke, 1, ENTRY_CLOSE, "", VERDICT_REJECT);
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, BENCH_ASPECTS);
    assert_true(bench->sheet.last == 0);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_REJECT);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_REJECT], 1);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_REJECT], 1);
    bench_do(bench, COMMAND_FAULT, WOUND);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(bench_front(bench)->number, 1);
    bench_free(bench);
}

static void taking_a_score_away_reopens_the_fish(void **state)
{
    (void)state;
    struct bench *bench = bench_new(3);
    for (int i = 0; i < 3; i++)
        bench_judge_fish(bench, 4);
    assert_true(bench->sheet.full);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_CLEAR, 0);
    assert_entry(fake_port_last(&bench->port), 0, ENTRY_SCORE, "head", SCORE_NONE);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_false(bench->sheet.full);
    assert_int_equal(bench->port.standings[1].verdict, VERDICT_OPEN);
    assert_int_equal(bench->sheet.round.tally.judged, 2);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_refused(bench, COMMAND_CLEAR, 0, "no score");
    bench_do(bench, COMMAND_SCORE, 2);
    assert_true(bench->sheet.full);
    assert_int_equal(bench->port.standings[1].verdict, VERDICT_KEEP);
    bench_free(bench);
}

static void the_next_fish_is_the_first_unfinished_one_after(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    for (int i = 0; i < 4; i++)
        bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_CLEAR, 0);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, BODY);
    bench_do(bench, COMMAND_CLEAR, 0);
    assert_int_equal(bench_front(bench)->number, 2);
    assert_int_equal(bench->sheet.fish_count, 4);
    bench_do(bench, COMMAND_SCORE, 3);
    assert_int_equal(bench_front(bench)->number, 4);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_do(bench, COMMAND_SCORE, 3);
    assert_int_equal(bench_front(bench)->number, 5);
    bench_free(bench);
}

static void what_an_older_standard_left_open_is_closed_with_one_key(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    for (int i = 0; i < BENCH_ASPECTS - 1; i++)
        bench_do(bench, COMMAND_SCORE, 4);
    bench->standard.aspect_count--;
    bench_reopen(bench, false);
    assert_int_equal(bench->sheet.aspect, BENCH_ASPECTS - 1);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_entry(fake_port_last(&bench->port), 0, ENTRY_CLOSE, "", VERDICT_KEEP);
    assert_int_equal(bench_front(bench)->number, 2);

    bench->standard.aspect_count++;
    bench_reopen(bench, false);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_OPEN], 1);
    assert_int_equal(bench->sheet.fish_count, 1);
    bench_free(bench);
}

/* Held fish 1 and 3 of four, and the second look begun. */
static struct bench *second_look(void)
{
    struct bench *bench = bench_new(4);
    for (int fish = 1; fish <= 4; fish++) {
        if (fish == 1 || fish == 3)
            bench_do(bench, COMMAND_FAULT, WOUND);
        bench_judge_fish(bench, 4);
    }
    bench_reopen(bench, true);
    assert_int_equal(bench->sheet.fish_count, 2);
    return bench;
}

static void a_second_look_judges_anew(void **state)
{
    (void)state;
    struct bench *bench = second_look();
    assert_int_equal(bench_front(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench_verdict(bench, 0), VERDICT_OPEN);
    assert_int_equal(bench_front(bench)->judgement.scores[WHITE], SCORE_NONE);
    assert_int_equal(bench_front(bench)->earlier.scores[WHITE], 4);

    bench_do(bench, COMMAND_SCORE, 5);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(stroke->look, 2);
    assert_false(stroke->correction);
    /* Until the second look is complete, the first one decides. */
    assert_int_equal(bench->port.standings[0].verdict, VERDICT_HOLD);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(fake_port_last(&bench->port)->look, 2);
    assert_int_equal(bench->port.standings[0].verdict, VERDICT_KEEP);
    assert_int_equal(bench_front(bench)->number, 3);
    assert_int_equal(bench->port.place.number, 3);
    assert_int_equal(bench->port.place.bowl_id, FAKE_BOWL_ID);

    bench_do(bench, COMMAND_FAULT, WOUND);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(bench->sheet.full);
    assert_non_null(strstr(bench->sheet.message, "looked at again"));
    bench_free(bench);
}

static void a_second_look_that_was_broken_off_goes_on(void **state)
{
    (void)state;
    struct bench *bench = second_look();
    bench_do(bench, COMMAND_FAULT, WOUND);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_SCORE, 2);
    bench_reopen(bench, true);
    assert_int_equal(bench->sheet.fish_count, 2);
    assert_int_equal(bench_front(bench)->number, 3);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_HOLD], 1);
    bench_do(bench, COMMAND_FAULT, WOUND);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(bench->sheet.full);
    /* All were looked at again: whoever opens it once more begins a third look. */
    bench_reopen(bench, true);
    assert_int_equal(bench->sheet.look, 3);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_OPEN], 2);
    bench_do(bench, COMMAND_SCORE, 2);
    assert_int_equal(fake_port_last(&bench->port)->look, 3);
    bench_free(bench);
}

static void a_verdict_by_hand_stands_but_does_not_end_a_second_look(void **state)
{
    (void)state;
    struct bench *bench = bench_new(1);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, 2);
    bench_do(bench, COMMAND_CHOOSE, 1);
    bench_reopen(bench, true);
    assert_int_equal(bench_front(bench)->judgement.by_hand, VERDICT_HOLD);
    bench_do(bench, COMMAND_SCORE, 5);
    assert_false(bench_front(bench)->closed);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(bench_front(bench)->closed);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_HOLD);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_BY_HAND);
    bench_free(bench);
}

static void the_totals_follow_when_the_hands_verdict_goes(void **state)
{
    (void)state;
    struct bench *bench = bench_new(1);
    bench_judge_fish(bench, 5);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, 2);
    bench_do(bench, COMMAND_CHOOSE, 1);
    bench_reopen(bench, true);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_HOLD], 1);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, 0);
    /* The second look is open, so the first one decides again, as it was judged. */
    assert_false(bench_front(bench)->closed);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_KEEP], 1);
    bench_free(bench);
}

/* Every call of the port that a command makes fails once: nothing may be different but the
 * message, unless the stroke was recorded and only the totals could not be read. */
static void try_failing(struct bench *bench, enum sheet_command_kind kind, int number)
{
    struct sheet_command command = {kind, number, "392145000123456"};
    for (int call = 1;; call++) {
        struct sheet before = sheet_copy(&bench->sheet);
        size_t strokes = bench->port.stroke_count;
        bench->port.fail_at = bench->port.calls + call;
        struct sheet_effects effects = sheet_do(&bench->sheet, &command);
        bool failed = bench->port.calls >= bench->port.fail_at;
        bench->port.fail_at = 0;
        if (effects.alert) {
            assert_true(failed);
            assert_int_equal(bench->port.stroke_count, strokes);
            assert_sheets_equal(&before, &bench->sheet);
            assert_int_equal(before.mode, bench->sheet.mode);
            assert_string_equal(before.line, bench->sheet.line);
            assert_true(before.last == bench->sheet.last);
            assert_non_null(strstr(bench->sheet.message, "Another program holds the ledger."));
            assert_non_null(strstr(bench->sheet.message, "Nothing was recorded"));
        } else if (failed) {
            assert_non_null(strstr(bench->sheet.message, "Recorded, but"));
            assert_int_equal(bench->sheet.round.tally.judged, before.round.tally.judged);
        }
        sheet_done(&before);
        if (!effects.alert)
            return;
    }
}

static void a_failing_port_changes_nothing(void **state)
{
    (void)state;
    struct bench *bench = bench_new(5);
    try_failing(bench, COMMAND_SCORE, 4);
    try_failing(bench, COMMAND_ASPECT, BODY);
    try_failing(bench, COMMAND_FAULT, EYE);
    try_failing(bench, COMMAND_TYPICAL, 0);
    try_failing(bench, COMMAND_FAULT, SPINE);
    try_failing(bench, COMMAND_EARLIER, 0);
    try_failing(bench, COMMAND_EARLIER, 0);
    try_failing(bench, COMMAND_ASPECT, WHITE);
    try_failing(bench, COMMAND_SCORE, 2);
    try_failing(bench, COMMAND_TAG, 0);
    try_failing(bench, COMMAND_UP, 0);
    try_failing(bench, COMMAND_CLEAR, 0);
    try_failing(bench, COMMAND_UNDO, 0);
    try_failing(bench, COMMAND_UNDO, 0);
    try_failing(bench, COMMAND_FRONT, 0);
    for (size_t left = bench->sheet.undoable_count; left > 0; left--)
        try_failing(bench, COMMAND_UNDO, 0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_LENGTH);
    bench_do(bench, COMMAND_TYPE, '9');
    try_failing(bench, COMMAND_ACCEPT, 0);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_NOTE);
    try_failing(bench, COMMAND_CHOOSE, 1);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, 1);
    try_failing(bench, COMMAND_CHOOSE, 1);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_score_moves_the_hand_on),
        cmocka_unit_test(the_last_score_closes_in_the_same_stroke),
        cmocka_unit_test(typical_is_one_stroke_for_all_open_aspects),
        cmocka_unit_test(a_knock_out_closes_and_its_taking_away_reopens),
        cmocka_unit_test(other_faults_toggle_and_stay),
        cmocka_unit_test(a_score_off_the_scale_is_refused),
        cmocka_unit_test(ten_is_typed_with_zero),
        cmocka_unit_test(a_correction_closes_again_and_stays),
        cmocka_unit_test(taking_a_score_away_reopens_the_fish),
        cmocka_unit_test(the_next_fish_is_the_first_unfinished_one_after),
        cmocka_unit_test(what_an_older_standard_left_open_is_closed_with_one_key),
        cmocka_unit_test(a_second_look_judges_anew),
        cmocka_unit_test(a_second_look_that_was_broken_off_goes_on),
        cmocka_unit_test(a_verdict_by_hand_stands_but_does_not_end_a_second_look),
        cmocka_unit_test(the_totals_follow_when_the_hands_verdict_goes),
        cmocka_unit_test(a_failing_port_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
