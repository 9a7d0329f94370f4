#include "senbetsu/base/alloc.h"
#include "senbetsu/sheet/sheet.h"
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

static void a_score_moves_the_cursor_on(void **state)
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
    assert_false(bench->port.verdicts[0].scored);
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
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_KEEP);
    assert_true(bench->port.verdicts[0].could_be_kept);
    /* The place is the fresh fish's: it is not in the ledger, but it is where the cursor is. */
    assert_int_equal(bench_current(bench)->id, 0);
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
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_REJECT);
    assert_int_equal(bench->sheet.last_decision.which, SPINE);
    bench_do(bench, COMMAND_EARLIER, 0);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(fake_port_last(&bench->port)->entry_count, 1);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_false(bench_current(bench)->closed);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(bench->sheet.fish_count, 1);
    assert_true(bench->sheet.last == SIZE_MAX);
    /* It had been closed before: what completes it is still part of the correction. */
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(bench_current(bench)->number, 2);
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
    assert_int_equal(bench_current(bench)->judgement.faults, 1u << EYE | 1u << WOUND);
    bench_do(bench, COMMAND_FAULT, EYE);
    assert_entry(fake_port_last(&bench->port), 0, ENTRY_FAULT, "eye", 0);
    assert_int_equal(bench_current(bench)->judgement.faults, 1u << WOUND);
    assert_int_equal(bench_current(bench)->number, 1);
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
    assert_int_equal(bench_current(bench)->judgement.scores[WHITE], 10);
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
    bench_refused(bench, COMMAND_SCORE, 1, "move to the aspect");
    bench_refused(bench, COMMAND_CLEAR, 0, "move to the aspect");
    bench_do(bench, COMMAND_ASPECT, WHITE);
    bench_do(bench, COMMAND_SCORE, 1);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_true(stroke->correction);
    assert_entry(stroke, 0, ENTRY_SCORE, "white", 1);
    assert_entry(stroke, 1, ENTRY_CLOSE, "", VERDICT_REJECT);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, BENCH_ASPECTS);
    assert_true(bench->sheet.last == 0);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_REJECT);
    assert_int_equal(bench->sheet.verdicts[VERDICT_REJECT], 1);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_REJECT], 1);
    bench_do(bench, COMMAND_FAULT, WOUND);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(bench_current(bench)->number, 1);
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
    assert_int_equal(bench->port.verdicts[1].verdict, VERDICT_OPEN);
    assert_int_equal(bench->sheet.round.tally.judged, 2);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_refused(bench, COMMAND_CLEAR, 0, "no score");
    bench_do(bench, COMMAND_SCORE, 2);
    assert_true(bench->sheet.full);
    assert_int_equal(bench->port.verdicts[1].verdict, VERDICT_KEEP);
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
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.fish_count, 4);
    bench_do(bench, COMMAND_SCORE, 3);
    assert_int_equal(bench_current(bench)->number, 4);
    assert_int_equal(bench->sheet.aspect, HEAD);
    bench_do(bench, COMMAND_SCORE, 3);
    assert_int_equal(bench_current(bench)->number, 5);
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
    assert_int_equal(bench_current(bench)->number, 2);

    bench->standard.aspect_count++;
    bench_reopen(bench, false);
    assert_int_equal(bench->sheet.verdicts[VERDICT_OPEN], 1);
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
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench_verdict(bench, 0), VERDICT_OPEN);
    assert_int_equal(bench_current(bench)->judgement.scores[WHITE], SCORE_NONE);
    assert_int_equal(bench_current(bench)->earlier.scores[WHITE], 4);

    bench_do(bench, COMMAND_SCORE, 5);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(stroke->look, 2);
    assert_false(stroke->correction);
    /* Until the second look is complete, the first one decides. */
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_HOLD);
    bench_do(bench, COMMAND_FAULT, WOUND); /* healed */
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(fake_port_last(&bench->port)->look, 2);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_KEEP);
    assert_int_equal(bench_current(bench)->number, 3);
    assert_int_equal(bench->port.place.number, 3);
    assert_int_equal(bench->port.place.bowl_id, FAKE_BOWL_ID);

    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(bench->sheet.full);
    assert_non_null(strstr(bench->sheet.message, "looked at again"));
    bench_free(bench);
}

/* White 4, the rest typical, a wound: all of it stands again, in one stroke. */
static void finishing_a_second_look_keeps_what_was_seen(void **state)
{
    (void)state;
    struct bench *bench = second_look();
    bench_do(bench, COMMAND_SCORE, 5);
    bench_do(bench, COMMAND_UNDO, 0);
    bench_do(bench, COMMAND_FINISH, 0);
    const struct fish *fish = &bench->sheet.fish[0];
    assert_int_equal(fish->judgement.scores[WHITE], 4);
    assert_int_equal(fish->judgement.scores[HEAD], 3);
    assert_int_equal(fish->judgement.faults, 1u << WOUND);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_HOLD);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_FAULT);
    bench_free(bench);
}

/* Which fish of a basin comes up is not known: nothing seen before is kept, and they are counted
 * from 1. */
static void a_second_look_at_a_basin_knows_no_fish(void **state)
{
    (void)state;
    char name[64];
    struct bench *bench = second_look();
    bench->port.unnumbered = true;
    bench_reopen(bench, true);
    assert_int_equal(sheet_carried_faults(&bench->sheet, bench_current(bench)), 0);
    bench_do(bench, COMMAND_FINISH, 0);
    assert_int_equal(bench->sheet.fish[0].judgement.scores[WHITE], 3);
    assert_int_equal(bench->sheet.fish[0].judgement.faults, 0);
    assert_int_equal(bench_current(bench)->number, 3);
    assert_int_equal(sheet_fish_number(&bench->sheet, bench->sheet.current), 2);
    assert_string_equal(sheet_fish_name(&bench->sheet, bench->sheet.current, name),
                        "fish 2 of the basin");
    bench_free(bench);
}

/* Whatever closes the fish: the wound was on the screen and nobody took it away. */
static void faults_seen_before_count_until_they_are_taken_away(void **state)
{
    (void)state;
    struct bench *bench = second_look();
    assert_int_equal(sheet_carried_faults(&bench->sheet, bench_current(bench)), 1u << WOUND);
    for (int i = 0; i < BENCH_ASPECTS; i++)
        bench_do(bench, COMMAND_SCORE, 5);
    assert_int_equal(bench->sheet.fish[0].judgement.faults, 1u << WOUND);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_HOLD);
    /* Healed on the other fish: that outlives a sheet that is broken off. */
    bench_do(bench, COMMAND_FAULT, WOUND);
    assert_int_equal(fake_port_last(&bench->port)->entries[0].number, 0);
    bench_reopen(bench, true);
    assert_int_equal(sheet_carried_faults(&bench->sheet, bench_current(bench)), 0);
    bench_do(bench, COMMAND_FINISH, 0);
    assert_int_equal(bench->sheet.fish[1].judgement.faults, 0);
    assert_int_equal(bench->port.verdicts[2].verdict, VERDICT_KEEP);
    bench_free(bench);
}

static void a_second_look_that_was_broken_off_goes_on(void **state)
{
    (void)state;
    struct bench *bench = second_look();
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_SCORE, 2);
    bench_reopen(bench, true);
    assert_int_equal(bench->sheet.fish_count, 2);
    assert_int_equal(bench_current(bench)->number, 3);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(bench->sheet.verdicts[VERDICT_HOLD], 1);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(bench->sheet.full);
    /* All were looked at again: whoever opens it once more begins a third look. */
    bench_reopen(bench, true);
    assert_int_equal(bench->sheet.look, 3);
    assert_int_equal(bench->sheet.verdicts[VERDICT_OPEN], 2);
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
    assert_int_equal(bench_current(bench)->judgement.by_hand, VERDICT_HOLD);
    bench_do(bench, COMMAND_SCORE, 5);
    assert_false(bench_current(bench)->closed);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_true(bench_current(bench)->closed);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_HOLD);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_BY_HAND);
    bench_free(bench);
}

/* Gives the fish in front a verdict by hand for a tie, as a closer look does. */
static void decide_tie(struct bench *bench, int verdict)
{
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, verdict);
    bench_do(bench, COMMAND_CHOOSE, 0);
    bench_type(bench, TIE_REASON);
}

static void a_fish_left_for_a_tie_is_decided_by_its_second_look(void **state)
{
    (void)state;
    struct bench *bench = bench_new(1);
    bench_judge_fish(bench, 5);
    decide_tie(bench, 2);
    bench_reopen(bench, true);
    assert_int_equal(bench_current(bench)->judgement.by_hand, VERDICT_HOLD);
    bench_do(bench, COMMAND_SCORE, 5);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_HOLD);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_REJECT);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_HOLD);
    bench_free(bench);
}

static void a_fish_taken_in_a_tie_keeps_its_place_while_it_is_a_keep(void **state)
{
    (void)state;
    struct bench *bench = bench_new(2);
    bench_judge_fish(bench, 5);
    bench_do(bench, COMMAND_EARLIER, 0);
    decide_tie(bench, 1);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_SCORE, 4);
    assert_int_equal(bench_current(bench)->judgement.by_hand, VERDICT_KEEP);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_int_equal(bench_current(bench)->judgement.by_hand, VERDICT_OPEN);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_REJECT);
    bench_free(bench);
}

static void the_totals_follow_when_the_verdict_by_hand_goes(void **state)
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
    assert_false(bench_current(bench)->closed);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_KEEP], 1);
    bench_free(bench);
}

/* Every call of the port that a command makes fails once: nothing may be different but the
 * message, unless the stroke was recorded and only the totals could not be read. */
static void try_failing(struct bench *bench, enum sheet_command_kind kind, int number)
{
    struct sheet_command command = {.kind = kind, .number = number, .text = "392145000123456"};
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
            assert_non_null(strstr(bench->sheet.message, "Another program is using the ledger."));
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
    try_failing(bench, COMMAND_FIRST_OPEN, 0);
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

static void takes_back_one_score_after_the_other(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_SCORE, 4);
    bench_do(bench, COMMAND_ASPECT, BODY);
    bench_do(bench, COMMAND_SCORE, 2);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench->sheet.aspect, BODY);
    assert_int_equal(bench_current(bench)->judgement.scores[BODY], SCORE_NONE);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_int_equal(stroke->undoes, 2);
    assert_int_equal(stroke->entry_count, 0);
    assert_int_equal(stroke->look, 1);
    assert_string_equal(bench->port.place.aspect, "body");
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_int_equal(bench_current(bench)->look, 0);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    assert_int_equal(bench->port.stroke_count, 4);
    bench_free(bench);
}

static void makes_the_fish_before_the_current_one_again(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_FAULT, SPINE);
    assert_int_equal(bench_current(bench)->number, 3);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_current(bench)->number, 2);
    assert_int_equal(bench->sheet.fish_count, 2);
    assert_int_equal(bench->sheet.aspect, WHITE);
    assert_true(bench->sheet.last == SIZE_MAX);
    assert_non_null(strstr(bench->sheet.message, "fish 2"));
    assert_int_equal(bench->port.verdicts[1].verdict, VERDICT_OPEN);
    assert_int_equal(bench->sheet.round.tally.judged, 1);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_current(bench)->number, 1);
    assert_int_equal(bench->sheet.aspect, HEAD);
    assert_int_equal(bench_current(bench)->judgement.scores[WHITE], 4);
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
    assert_int_equal(bench_current(bench)->number, 1);
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
    assert_int_equal(bench_current(bench)->number, 1);
    bench_do(bench, COMMAND_UNDO, 0);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    bench_free(bench);
}

static void takes_lengths_and_notes_back_without_moving_the_cursor(void **state)
{
    (void)state;
    struct bench *bench = bench_new(0);
    bench_do(bench, COMMAND_ASPECT, PATTERN);
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_LENGTH);
    bench_type(bench, "145");
    bench_scan(bench, "392145000123456");
    bench_do(bench, COMMAND_UNDO, 0);
    assert_string_equal(bench_current(bench)->tag, "");
    assert_int_equal(bench_current(bench)->length_mm, 145);
    bench_do(bench, COMMAND_UNDO, 0);
    assert_int_equal(bench_current(bench)->length_mm, 0);
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
    assert_int_equal(bench_current(bench)->judgement.scores[WHITE], SCORE_NONE);
    assert_int_equal(bench_current(bench)->earlier.scores[WHITE], 4);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_HOLD);
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    bench_do(bench, COMMAND_FAULT, WOUND);
    bench_do(bench, COMMAND_TYPICAL, 0);
    assert_int_equal(fake_port_last(&bench->port)->look, 2);
    assert_int_equal(bench->port.verdicts[0].verdict, VERDICT_KEEP);
    bench_free(bench);
}

/* Thousands of commands in random order: whatever is pressed, what the sheet shows is what the
 * ledger holds. */

/* xorshift: the same iterator on every machine. */
static uint32_t draw(uint32_t *seed, uint32_t below)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed % below;
}

/* Often what a sorter does, sometimes what none would. */
static struct sheet_command random_command(const struct sheet *sheet, uint32_t *seed)
{
    static const enum sheet_command_kind frequent[] = {
        COMMAND_SCORE, COMMAND_SCORE,      COMMAND_SCORE,      COMMAND_TYPICAL, COMMAND_TYPICAL,
        COMMAND_FAULT, COMMAND_ENTER_MODE, COMMAND_ENTER_MODE, COMMAND_ASPECT,  COMMAND_UNDO,
        COMMAND_CLEAR, COMMAND_EARLIER,    COMMAND_TAG};
    static const enum sheet_command_kind typing[] = {COMMAND_TYPE,   COMMAND_TYPE,   COMMAND_CHOOSE,
                                                     COMMAND_CHOOSE, COMMAND_ACCEPT, COMMAND_ERASE};
    static const char *const tags[] = {"", "T1", "T2", "T3", "elsewhere", "a,b"};
    enum sheet_command_kind kind = (enum sheet_command_kind)draw(seed, COMMAND_LEAVE + 1);
    if (sheet->mode >= SHEET_LENGTH && draw(seed, 4) != 0)
        kind = typing[draw(seed, sizeof typing / sizeof *typing)];
    else if (draw(seed, 4) != 0)
        kind = frequent[draw(seed, sizeof frequent / sizeof *frequent)];
    struct sheet_command command = {
        .kind = kind, .number = (int)draw(seed, 8) - 1, .text = tags[draw(seed, 6)]};
    if (kind == COMMAND_TYPE)
        command.number = draw(seed, 2) != 0 ? '0' + (int)draw(seed, 10) : (int)draw(seed, 0x3000);
    if (kind == COMMAND_ENTER_MODE)
        command.number = (int)draw(seed, SHEET_MODE_COUNT + 1);
    return command;
}

static void assert_in_bounds(const struct sheet *sheet)
{
    assert_true(sheet->fish_count > 0);
    assert_true(sheet->current < sheet->fish_count);
    assert_in_range(sheet->aspect, 0, BENCH_ASPECTS);
    assert_in_range(sheet->mode, 0, SHEET_MODE_COUNT - 1);
    assert_true(sheet->last == SIZE_MAX || sheet->fish[sheet->last].closed);
    assert_true(sheet->expected == 0 || sheet->fish_count <= (size_t)sheet->expected);
    for (size_t i = 0; i < sheet->fish_count; i++) {
        const struct fish *fish = &sheet->fish[i];
        assert_int_equal(fish->number, (int)i + 1);
        assert_true(fish->id != 0 || i + 1 == sheet->fish_count);
        assert_in_range(fish->length_mm, 0, 2000);
        if (fish->closed)
            assert_int_equal(fish->sent, sheet_decision(sheet, i).verdict);
    }
}

static void assert_verdicts_derived(const struct fake_port *port)
{
    for (size_t i = 0; i < port->fish_count; i++) {
        struct fish fish = fake_port_fish(port, (int64_t)i + 1, 0);
        struct judgement deciding = fish_deciding(&fish, port->standard);
        struct cached_verdict cached = cached_verdict_of(port->standard, &deciding);
        assert_int_equal(port->verdicts[i].verdict, cached.verdict);
        assert_int_equal(port->verdicts[i].could_be_kept, cached.could_be_kept);
        if (cached.scored)
            assert_int_equal(port->verdicts[i].score, cached.score);
    }
}

/* Totals that could not be read after a stroke are read now. */
static void assert_same_after_reopening(struct bench *bench, bool second_look)
{
    struct sheet anew;
    struct err err;
    struct sheet_place place = bench->port.place;
    bench_do(bench, COMMAND_REFRESH, 0);
    assert_ok(fake_port_open(&bench->port, &anew, bench->sheet.expected, second_look, &err), &err);
    assert_sheets_equal(&bench->sheet, &anew);
    assert_int_equal(place.number, bench->port.place.number);
    assert_string_equal(place.aspect, bench->port.place.aspect);
    sheet_done(&anew);
}

static void iterator(struct bench *bench, uint32_t seed, int commands)
{
    for (int i = 0; i < commands; i++) {
        struct sheet_command command = random_command(&bench->sheet, &seed);
        struct sheet before = sheet_copy(&bench->sheet);
        size_t strokes = bench->port.stroke_count;
        bench->port.now_ms += 700;
        if (draw(&seed, 10) == 0)
            bench->port.fail_at = bench->port.calls + 1;
        struct sheet_effects effects = sheet_do(&bench->sheet, &command);
        bench->port.fail_at = 0;
        bool takes_back = command.kind == COMMAND_SCAN || command.kind == COMMAND_MISREAD;
        if (!takes_back)
            assert_in_range(bench->port.stroke_count, strokes, strokes + 1);
        if (effects.alert && !takes_back) {
            assert_sheets_equal(&before, &bench->sheet);
            assert_int_equal(bench->port.stroke_count, strokes);
        }
        sheet_done(&before);
        assert_in_bounds(&bench->sheet);
        assert_same_after_reopening(bench, false);
        assert_verdicts_derived(&bench->port);
    }
}

static void take_everything_back(struct bench *bench)
{
    for (size_t left = bench->sheet.undoable_count; left > 0; left--) {
        bench_do(bench, COMMAND_UNDO, 0);
        assert_in_bounds(&bench->sheet);
        assert_same_after_reopening(bench, false);
    }
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    for (size_t i = 0; i < bench->sheet.fish_count; i++) {
        struct fish empty;
        const struct fish *fish = &bench->sheet.fish[i];
        fish_init(&empty, fish->id, fish->bowl_id, fish->bowl, fish->number);
        assert_int_equal(fish->look, 0);
        assert_memory_equal(fish->judgement.scores, empty.judgement.scores,
                            sizeof empty.judgement.scores);
        assert_int_equal(fish->judgement.faults, 0);
        assert_int_equal(fish->judgement.by_hand, VERDICT_OPEN);
        assert_string_equal(fish->tag, "");
        assert_string_equal(fish->note, "");
        assert_int_equal(fish->length_mm, 0);
    }
    assert_int_equal(bench->sheet.round.tally.judged, 0);
    assert_int_equal(bench_current(bench)->number, 1);
}

static void any_walk_shows_what_the_ledger_holds(void **state)
{
    (void)state;
    static const int expected[] = {0, 1, 3, 12};
    for (uint32_t seed = 1; seed <= 40; seed++) {
        struct bench *bench = bench_new(expected[seed % 4]);
        bench->port.places = 3;
        text_copy(bench->port.other_tag, CODE_SIZE, "elsewhere");
        bench->port.other = (struct tag_bearer){.fish = 99, .bowl = 8, .number = 2};
        bench_do(bench, COMMAND_REFRESH, 0);
        iterator(bench, seed * 2654435761u, 300);
        bench_do(bench, COMMAND_REFRESH, 0);
        take_everything_back(bench);
        bench_free(bench);
    }
}

/* In a second look the queue is fixed; while it is not finished, coming back shows the same. */
static void any_walk_through_a_second_look_can_be_broken_off(void **state)
{
    (void)state;
    for (uint32_t seed = 1; seed <= 20; seed++) {
        struct bench *bench = bench_new(5);
        for (int fish = 0; fish < 5; fish++) {
            bench_do(bench, COMMAND_FAULT, WOUND);
            bench_judge_fish(bench, 4);
        }
        bench_reopen(bench, true);
        uint32_t walk_seed = seed * 40503u;
        for (int i = 0; i < 250; i++) {
            struct sheet_command command = random_command(&bench->sheet, &walk_seed);
            bench->port.now_ms += 700;
            sheet_do(&bench->sheet, &command);
            assert_in_range(bench->sheet.fish_count, 5, 5);
            assert_verdicts_derived(&bench->port);
            if (!bench->sheet.full)
                assert_same_after_reopening(bench, true);
        }
        while (bench->sheet.undoable_count > 0)
            bench_do(bench, COMMAND_UNDO, 0);
        for (size_t i = 0; i < 5; i++) {
            assert_int_equal(bench->port.verdicts[i].verdict, VERDICT_HOLD);
            assert_int_equal(fake_port_fish(&bench->port, (int64_t)i + 1, 0).look, 1);
        }
        bench_free(bench);
    }
}

/* The word says where the fish goes now, and that is what the closing stroke records. */
static void a_fish_without_a_place_is_held(void **state)
{
    (void)state;
    struct bench *bench = bench_new(10);
    bench->port.places = 1;
    bench_do(bench, COMMAND_REFRESH, 0);
    bench->sheet.cut = (struct cut){.kind = CUT_ALL};
    bench_judge_fish(bench, 3);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    assert_int_equal(bench->sheet.cut.kind, CUT_NONE);
    bench_judge_fish(bench, 5);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_HOLD);
    assert_int_equal(bench->sheet.last_decision.reason, REASON_PLACES);
    const struct stroke *stroke = fake_port_last(&bench->port);
    assert_entry(stroke, stroke->entry_count - 1, ENTRY_CLOSE, CLOSE_NO_PLACE, VERDICT_HOLD);
    assert_int_equal(bench->sheet.verdicts[VERDICT_HOLD], 1);
    assert_int_equal(bench->sheet.round.tally.verdicts[VERDICT_KEEP], 1);
    /* By hand is by hand. */
    bench_do(bench, COMMAND_ENTER_MODE, SHEET_VERDICT);
    bench_do(bench, COMMAND_CHOOSE, 1);
    bench_do(bench, COMMAND_CHOOSE, 1);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    bench_reopen(bench, false);
    assert_int_equal(sheet_decision(&bench->sheet, 1).verdict, VERDICT_HOLD);
    assert_int_equal(sheet_decision(&bench->sheet, 2).verdict, VERDICT_KEEP);
    bench_free(bench);
}

/* A fish that has its place keeps it while it reaches keep; one that had none is judged against the
 * line as it is now. */
static void a_correction_and_the_places(void **state)
{
    (void)state;
    struct bench *bench = bench_new(10);
    bench->port.places = 1;
    bench_do(bench, COMMAND_REFRESH, 0);
    bench->sheet.cut = (struct cut){.kind = CUT_ALL};
    bench_judge_fish(bench, 4);
    bench_judge_fish(bench, 4);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_SCORE, 2);
    assert_true(fake_port_last(&bench->port)->correction);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    bench_do(bench, COMMAND_LATER, 0);
    bench->sheet.cut = (struct cut){.kind = CUT_ALL};
    bench_do(bench, COMMAND_ASPECT, HEAD);
    bench_do(bench, COMMAND_SCORE, 5);
    assert_int_equal(bench->sheet.last_decision.verdict, VERDICT_KEEP);
    bench_do(bench, COMMAND_EARLIER, 0);
    bench_do(bench, COMMAND_FAULT, WOUND); /* it loses its place to the wound */
    assert_int_equal(bench->sheet.last_decision.reason, REASON_FAULT);
    bench_free(bench);
}

/* A bowl as an evening brings it: its totals are those of the fish. */
static void a_whole_bowl(void **state)
{
    (void)state;
    enum { FISH = 60 };
    struct bench *bench = bench_new(FISH);
    bench->port.places = 20;
    for (int fish = 1; fish <= FISH; fish++) {
        assert_int_equal(bench_current(bench)->number, fish);
        if (fish % 3 == 0)
            bench_do(bench, COMMAND_FAULT, SPINE);
        else if (fish % 5 == 0)
            bench_do(bench, COMMAND_FAULT, WOUND);
        if (fish % 3 != 0)
            bench_judge_fish(bench, 3 + fish % 2);
        if (fish == 31)
            bench_reopen(bench, false);
    }
    assert_true(bench->sheet.full);
    assert_int_equal(bench->sheet.verdicts[VERDICT_REJECT], 20);
    /* 16 have 60 points, and as many 50: those would all be kept, but there is no place for them.
     */
    assert_int_equal(bench->sheet.verdicts[VERDICT_HOLD], 8 + 16);
    assert_int_equal(bench->sheet.verdicts[VERDICT_KEEP], 16);
    assert_int_equal(bench->sheet.verdicts[VERDICT_OPEN], 0);
    assert_int_equal(bench->sheet.round.tally.judged, FISH);
    assert_int_equal(bench->sheet.cut.kind, CUT_OVER);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_score_moves_the_cursor_on),
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
        cmocka_unit_test(finishing_a_second_look_keeps_what_was_seen),
        cmocka_unit_test(a_second_look_at_a_basin_knows_no_fish),
        cmocka_unit_test(faults_seen_before_count_until_they_are_taken_away),
        cmocka_unit_test(a_second_look_that_was_broken_off_goes_on),
        cmocka_unit_test(a_verdict_by_hand_stands_but_does_not_end_a_second_look),
        cmocka_unit_test(a_fish_left_for_a_tie_is_decided_by_its_second_look),
        cmocka_unit_test(a_fish_taken_in_a_tie_keeps_its_place_while_it_is_a_keep),
        cmocka_unit_test(the_totals_follow_when_the_verdict_by_hand_goes),
        cmocka_unit_test(a_failing_port_changes_nothing),
        cmocka_unit_test(takes_back_one_score_after_the_other),
        cmocka_unit_test(makes_the_fish_before_the_current_one_again),
        cmocka_unit_test(what_is_judged_after_an_undo_is_no_correction),
        cmocka_unit_test(an_undone_correction_shows_the_verdict_it_had),
        cmocka_unit_test(goes_on_after_the_sheet_was_left),
        cmocka_unit_test(takes_lengths_and_notes_back_without_moving_the_cursor),
        cmocka_unit_test(the_first_stroke_of_a_second_look_leaves_the_fish_waiting),
        cmocka_unit_test(any_walk_shows_what_the_ledger_holds),
        cmocka_unit_test(any_walk_through_a_second_look_can_be_broken_off),
        cmocka_unit_test(a_fish_without_a_place_is_held),
        cmocka_unit_test(a_correction_and_the_places),
        cmocka_unit_test(a_whole_bowl),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
