#include "senbetsu/report/pass.h"
#include "support/import_bench.h"
#include "support/standard.h"
#include "support/test.h"

/* Scores 100, 75, 75, a knock-out, an open one. */
static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_fish,
              "spawning,stage,bowl,fish,judge,date,faults,body,white\n"
              "K1,first,1,1,Ines,2026-07-18,,5,5\n"
              "K1,first,1,2,Ines,2026-07-18,,4,4\n"
              "K1,first,1,3,Ines,2026-07-18,,4,4\n"
              "K1,first,2,1,Ines,2026-07-18,spine,5,5\n"
              "K1,first,2,2,Ines,2026-07-18,,5,\n",
              5, 0, 0);
    return result;
}

static struct pass_run load(struct small_ledger *small)
{
    struct round round;
    struct pass_run run;
    struct err err;
    assert_ok(round_get(small->ledger, small->round.id, &round, &err), &err);
    assert_ok(pass_run_load(small->ledger, &round, NULL, &run, &err), &err);
    return run;
}

static void assert_verdicts(const struct pass_run *run, const enum verdict expected[5])
{
    assert_int_equal(run->count, 5);
    for (size_t i = 0; i < run->count; i++)
        assert_int_equal(run->decisions[i].verdict, expected[i]);
}

static void record(struct small_ledger *small, struct pass_run *run)
{
    struct err err;
    bool recorded = false;
    assert_ok(pass_run_record(small->ledger, run, small->judge, &recorded, &err), &err);
    assert_true(recorded);
}

static void test_a_round_without_judged_fish_is_refused(void **state)
{
    struct small_ledger *small = *state;
    struct round round;
    struct pass_run run;
    struct pass pass;
    bool is_new;
    struct err err;
    assert_ok(
        round_begin_as(small->ledger, "K1", "", STAGE_SECOND, MANNER_PICK, &round, &is_new, &err),
        &err);
    assert_ok(
        pass_run_load(small->ledger, &round,
                      small->round.standard[0] != '\0' ? small->round.standard : "plain-first",
                      &run, &err),
        &err);
    bool recorded;
    assert_says(pass_run_record(small->ledger, &run, small->judge, &recorded, &err), &err,
                "The fish of this round are not judged one by one, so there is no pass.");
    assert_false(pass_latest(small->ledger, round.id, &pass, &err));
    pass_run_done(&run);
}

static void test_places_and_thresholds_can_be_tried(void **state)
{
    struct pass_run run = load(*state);
    assert_verdicts(&run, (enum verdict[]){VERDICT_KEEP, VERDICT_KEEP, VERDICT_KEEP, VERDICT_REJECT,
                                           VERDICT_OPEN});
    run.places = 2; /* the two of 75 tie for one place */
    pass_run_decide(&run);
    assert_verdicts(&run, (enum verdict[]){VERDICT_KEEP, VERDICT_HOLD, VERDICT_HOLD, VERDICT_REJECT,
                                           VERDICT_OPEN});
    run.places = -1;
    run.standard.keep_at = 7501;
    pass_run_decide(&run);
    assert_verdicts(&run, (enum verdict[]){VERDICT_KEEP, VERDICT_HOLD, VERDICT_HOLD, VERDICT_REJECT,
                                           VERDICT_OPEN});
    assert_int_equal(run.decisions[1].reason, REASON_SCORE);
    pass_run_done(&run);
}

static void test_rows_and_ranking(void **state)
{
    struct pass_run run = load(*state);
    struct fish_row row;
    pass_run_row(&run, 3, &row);
    assert_int_equal(row.bowl, 2);
    assert_int_equal(row.number, 1);
    assert_string_equal(row.score, "100.0");
    assert_int_equal(row.rank, 1);
    assert_string_equal(row.reason, "fault spine");
    assert_string_equal(row.reason_label, "Bent spine");
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(run.order[i], ((size_t[]){0, 3, 1, 2, 4})[i]);
    pass_run_done(&run);
}

/* Somebody judges a fish while the pass is shown. */
static void assert_recorded_only_as_it_is(struct small_ledger *small, struct pass_run *run)
{
    struct err err;
    bool recorded = true;
    take_text(small, import_fish,
              "spawning,stage,bowl,fish,judge,date,faults,body,white\n"
              "K1,first,1,3,Ines,2026-07-18,spine,4,4\n",
              0, 1, 0);
    assert_ok(pass_run_record(small->ledger, run, small->judge, &recorded, &err), &err);
    assert_false(recorded);
    assert_int_equal(run->decisions[2].verdict, VERDICT_HOLD); /* as it was shown */
    assert_ok(pass_run_reload(small->ledger, run, &err), &err);
    assert_int_equal(run->decisions[2].verdict, VERDICT_REJECT);
    assert_int_equal(run->places, 2);
    record(small, run);
}

static void test_a_pass_is_recorded_as_it_was_shown(void **state)
{
    struct small_ledger *small = *state;
    struct pass_run run = load(small);
    struct pass pass;
    struct pass_decisions decisions;
    struct err err;
    run.places = 2;
    pass_run_decide(&run);
    record(small, &run);
    assert_ok(pass_latest(small->ledger, small->round.id, &pass, &err), &err);
    assert_int_equal(pass.places, 2);
    assert_true(pass.judge == small->judge);
    assert_true(pass.standard_version == small->standard.id);
    assert_true(pass.unit == score_unit(&run.standard));
    assert_ok(pass_decisions_get(small->ledger, pass.id, &decisions, &err), &err);
    assert_int_equal(decisions.count, run.count);
    for (size_t i = 0; i < decisions.count; i++) {
        assert_true(decisions.fish[i].fish == run.fish[i].id);
        assert_int_equal(decisions.fish[i].verdict, run.decisions[i].verdict);
        assert_int_equal(decisions.fish[i].rank, run.decisions[i].rank);
    }
    assert_string_equal(decisions.reasons[decisions.fish[1].reason].code, "places");
    assert_int_equal(run.round.places, 2); /* the round has them from now on */
    assert_recorded_only_as_it_is(small, &run);
    pass_decisions_done(&decisions);
    pass_run_done(&run);
}

/* What somebody wrote meanwhile does not matter where it decides nothing, and is not
 * undone. */
static void test_what_decides_nothing_does_not_matter(void **state)
{
    struct small_ledger *small = *state;
    struct pass_run run = load(small);
    struct round round = run.round;
    struct err err;
    bool recorded = true;
    take_text(small, import_fish, "spawning,stage,bowl,fish,length_mm\nK1,first,1,3,120\n", 0, 1,
              0);
    record(small, &run);
    round.fate = FATE_KEPT_APART;
    assert_ok(round_save(small->ledger, &round, small->judge, &err), &err);
    assert_ok(pass_run_record(small->ledger, &run, small->judge, &recorded, &err), &err);
    assert_true(recorded);
    assert_ok(round_get(small->ledger, round.id, &round, &err), &err);
    assert_int_equal(round.fate, FATE_KEPT_APART);
    pass_run_done(&run);
}

static void test_moved_thresholds_are_a_new_version(void **state)
{
    struct small_ledger *small = *state;
    struct pass_run run = load(small);
    struct standard_version version;
    struct err err;
    record(small, &run);
    assert_int_equal(run.version.version, 1);
    run.standard.keep_at = 8000;
    pass_run_decide(&run);
    record(small, &run);
    assert_ok(standard_named(small->ledger, "plain-first", &version, &err), &err);
    assert_int_equal(version.version, 2);
    assert_int_equal(version.standard.keep_at, 8000);
    assert_int_equal(version.origin, ORIGIN_PASS_SCREEN);
    pass_run_done(&run);
}

/* Thresholds that could not be recorded are not taken for recorded the next time. */
static void test_a_failed_pass_can_be_recorded_again(void **state)
{
    struct small_ledger *small = *state;
    struct pass_run run = load(small);
    struct err err;
    run.standard.keep_at = 8000;
    pass_run_decide(&run);
    bool recorded;
    assert_false(
        pass_run_record(small->ledger, &run, 12345, &recorded, &err)); /* there is no such judge */
    assert_int_equal(run.version.version, 1);
    record(small, &run);
    assert_int_equal(run.version.version, 2);
    pass_run_done(&run);
}

/* Keeps fish 1 of bowl 2 in spite of its spine. */
static void keep_by_hand(struct small_ledger *small, const struct pass_run *run, const char *why)
{
    struct stroke stroke = {.fish = run->fish[3].id,
                            .judge = small->judge,
                            .look = 1,
                            .correction = true,
                            .at_ms = small->now,
                            .entry_count = 1,
                            .entries = {{.kind = ENTRY_VERDICT, .number = VERDICT_KEEP}}};
    struct fish fish;
    struct err err;
    text_copy(stroke.entries[0].text, sizeof stroke.entries[0].text, why);
    assert_ok(fish_load(small->ledger, stroke.fish, &run->standard, &fish, &err), &err);
    fish_apply(&fish, &run->standard, 1, small->now, &stroke.entries[0]);
    struct cached_verdict cached = fish_cached_verdict(&fish, &run->standard);
    assert_ok(stroke_record(small->ledger, &stroke, &cached, NULL, &err), &err);
}

static void test_the_hand_is_named(void **state)
{
    struct small_ledger *small = *state;
    struct pass_run run = load(small);
    struct fish_row row;
    keep_by_hand(small, &run, "for show");
    pass_run_done(&run);
    run = load(small);
    run.places = 1;
    pass_run_decide(&run);
    pass_run_row(&run, 3, &row);
    assert_int_equal(row.verdict, VERDICT_KEEP);
    assert_string_equal(row.reason, "by hand: for show (Ines)");
    assert_int_equal(run.decisions[0].reason, REASON_PLACES); /* the hand takes its place first */
    keep_by_hand(small, &run, "");
    pass_run_done(&run);
    run = load(small);
    pass_run_row(&run, 3, &row);
    assert_string_equal(row.reason, "by hand (Ines)");
    pass_run_done(&run);
}

static void test_another_scale_is_refused(void **state)
{
    struct small_ledger *small = *state;
    struct round round;
    struct pass_run run;
    struct standard other = small->standard.standard;
    struct standard_version version;
    enum saved saved;
    struct err err;
    text_copy(other.name, sizeof other.name, "tens");
    other.highest = 10;
    assert_ok(standard_save(small->ledger, &other, ORIGIN_IMPORTED, &version, &saved, &err), &err);
    assert_ok(round_get(small->ledger, small->round.id, &round, &err), &err);
    assert_says(pass_run_load(small->ledger, &round, "tens", &run, &err), &err,
                "judged by plain-first on the scale 1-5; tens has the scale 1-10");
    assert_says(pass_run_load(small->ledger, &round, "nowhere", &run, &err), &err, "nowhere");
    assert_int_equal(err.code, ERR_ABSENT);
}

#define IN_LEDGER(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

/* A fish that has been closed in this look with this score (SCORE_NONE = still open). */
static struct fish fish_with(int number, int look, int score, int earlier)
{
    struct fish fish;
    fish_init(&fish, number, 1, 1, number);
    fish.look = look;
    fish.judgement.scores[0] = (int8_t)score;
    fish.closed = score != SCORE_NONE;
    fish.earlier.scores[0] = (int8_t)earlier;
    struct standard standard = trial_standard();
    struct judgement deciding = fish_deciding(&fish, &standard);
    fish.stands = judgement_decide(&standard, &deciding).verdict;
    return fish;
}

enum { KEEP = 8, HOLD = 5, REJECT = 1 };

static void assert_picked(struct fish *fish, size_t count, bool passed, const char *numbers)
{
    char picked[64] = "";
    size_t picked_count = second_look_pick(fish, count, passed, 0);
    for (size_t i = 0; i < picked_count; i++)
        snprintf(picked + strlen(picked), sizeof picked - strlen(picked), "%d ", fish[i].number);
    assert_string_equal(picked, numbers);
}

static void test_the_held_fish_come_up(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, KEEP, SCORE_NONE), fish_with(2, 1, HOLD, SCORE_NONE),
                          fish_with(3, 1, REJECT, SCORE_NONE), fish_with(4, 1, HOLD, SCORE_NONE),
                          fish_with(5, 0, SCORE_NONE, SCORE_NONE)};
    assert_int_equal(second_look_pick(fish, 5, false, 1), 1); /* one was picked in its basin */
    assert_int_equal(fish[0].number, 2);
    fish[0] = fish_with(1, 1, KEEP, SCORE_NONE);
    assert_picked(fish, 5, false, "2 4 ");
}

/* One has been kept at its second look, one is half judged, one still waits. */
static void test_a_look_broken_off_goes_on(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, KEEP, SCORE_NONE), fish_with(2, 2, KEEP, HOLD),
                          fish_with(3, 2, SCORE_NONE, HOLD), fish_with(4, 1, HOLD, SCORE_NONE)};
    assert_picked(fish, 4, false, "2 3 4 ");
}

/* All have had their second look; only the one held again has a third. */
static void test_a_third_look_is_for_those_held_again(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 2, KEEP, HOLD), fish_with(2, 2, HOLD, HOLD),
                          fish_with(3, 2, REJECT, HOLD)};
    assert_picked(fish, 3, false, "2 ");
}

/* What counts is what stands, and what the pass has decided of a look before it is over. */
static void test_the_held_fish_of_a_pass_come_up(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, KEEP, SCORE_NONE), fish_with(2, 1, HOLD, SCORE_NONE),
                          fish_with(3, 2, KEEP, HOLD), fish_with(4, 2, REJECT, HOLD)};
    fish[0].stands = VERDICT_HOLD; /* no place was left */
    fish[1].stands = VERDICT_REJECT;
    assert_picked(fish, 4, true, "1 ");
    fish[3].changed = true; /* it has had this look since */
    assert_picked(fish, 4, true, "1 4 ");
}

/* Those that lie in the keep basin stay there; of the hold basin any may be gone. */
static void test_picked_fish_do_not_come_up(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, HOLD, SCORE_NONE), fish_with(2, 1, HOLD, SCORE_NONE),
                          fish_with(3, 1, HOLD, SCORE_NONE), fish_with(4, 1, HOLD, SCORE_NONE)};
    fish[0].sent = VERDICT_KEEP;
    fish[1].sent = fish[2].sent = fish[3].sent = VERDICT_HOLD;
    char picked[64] = "";
    struct fish again[4];
    memcpy(again, fish, sizeof fish);
    size_t count = second_look_pick(again, 4, false, 2);
    for (size_t i = 0; i < count; i++)
        snprintf(picked + strlen(picked), sizeof picked - strlen(picked), "%d ", again[i].number);
    assert_string_equal(picked, "2 3 ");
    assert_picked(fish, 4, false, "1 2 3 4 ");
}

static void test_nobody_is_held(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, KEEP, SCORE_NONE), fish_with(2, 2, KEEP, HOLD)};
    assert_picked(fish, 2, false, "");
    assert_picked(fish, 0, false, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_LEDGER(test_a_round_without_judged_fish_is_refused),
        IN_LEDGER(test_places_and_thresholds_can_be_tried),
        IN_LEDGER(test_rows_and_ranking),
        IN_LEDGER(test_a_pass_is_recorded_as_it_was_shown),
        IN_LEDGER(test_what_decides_nothing_does_not_matter),
        IN_LEDGER(test_moved_thresholds_are_a_new_version),
        IN_LEDGER(test_a_failed_pass_can_be_recorded_again),
        IN_LEDGER(test_the_hand_is_named),
        IN_LEDGER(test_another_scale_is_refused),

        cmocka_unit_test(test_the_held_fish_come_up),
        cmocka_unit_test(test_a_look_broken_off_goes_on),
        cmocka_unit_test(test_a_third_look_is_for_those_held_again),
        cmocka_unit_test(test_the_held_fish_of_a_pass_come_up),
        cmocka_unit_test(test_picked_fish_do_not_come_up),
        cmocka_unit_test(test_nobody_is_held),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
