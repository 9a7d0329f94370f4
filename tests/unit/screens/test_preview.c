#include "preview.h"
#include "support/standard.h"
#include "support/test.h"

#include <stdlib.h>

/* Fish 1, 2, … of bowl 1 with these scores, as they stand by the trial standard. */
static void preview_with(struct preview *preview, const int *scores, size_t count, int places)
{
    struct pass_run run = {.version.standard = trial_standard(),
                           .standard = trial_standard(),
                           .places = places,
                           .count = count,
                           .fish = calloc(count + 1, sizeof *run.fish),
                           .order = calloc(count + 1, sizeof *run.order),
                           .decisions = calloc(count + 1, sizeof *run.decisions)};
    for (size_t i = 0; i < count; i++) {
        struct judgement judgement;
        judgement_init(&judgement);
        judgement.scores[0] = (int8_t)scores[i];
        run.decisions[i] = judgement_decide(&run.standard, &judgement);
        run.fish[i] = (struct pass_fish){
            .id = (int64_t)i + 1, .number = (unsigned)i + 1, .stands = run.decisions[i].verdict};
    }
    decisions_rank(run.decisions, count, run.order);
    pass_run_decide(&run);
    preview_init(preview, &run);
}

/* In points: 88.9, 33.3, 77.8, none, 77.8, 66.7, 55.6. */
static const int scores[] = {8, 3, 7, SCORE_NONE, 7, 6, 5};
enum { COUNT = sizeof scores / sizeof scores[0] };

static void assert_counts(const struct preview *preview, int keep, int hold, int reject, int open)
{
    assert_int_equal(preview->now.verdicts[VERDICT_KEEP], keep);
    assert_int_equal(preview->now.verdicts[VERDICT_HOLD], hold);
    assert_int_equal(preview->now.verdicts[VERDICT_REJECT], reject);
    assert_int_equal(preview->now.verdicts[VERDICT_OPEN], open);
}

static void test_at_first_nothing_changes(void **state)
{
    (void)state;
    struct preview preview;
    preview_with(&preview, scores, COUNT, NO_PLACES);
    assert_counts(&preview, 4, 1, 1, 1);
    assert_int_equal(preview.changed_count, 0);
    assert_false(preview_moved(&preview));
    preview_done(&preview);
}

static void test_the_best_come_first_and_the_unscored_last(void **state)
{
    (void)state;
    static const size_t expected[] = {0, 2, 4, 5, 6, 1, 3};
    struct preview preview;
    preview_with(&preview, scores, COUNT, NO_PLACES);
    for (size_t i = 0; i < COUNT; i++)
        assert_int_equal(preview.run.order[i], expected[i]);
    preview_done(&preview);
}

/* From 65 up to 67: only the fish at 66.7 falls, and it falls to hold. */
static void test_a_threshold_moved_says_who_changes_side(void **state)
{
    (void)state;
    struct preview preview;
    preview_with(&preview, scores, COUNT, NO_PLACES);
    preview_turn(&preview, DIAL_KEEP_AT, 3);
    assert_int_equal(preview.run.standard.keep_at, 6650);
    assert_int_equal(preview.changed_count, 0);
    preview_turn(&preview, DIAL_KEEP_AT, 1);
    assert_counts(&preview, 3, 2, 1, 1);
    assert_int_equal(preview.changed_count, 1);
    assert_int_equal(preview.changed[0], 5);
    assert_true(preview_moved(&preview));
    preview_turn(&preview, DIAL_KEEP_AT, -4);
    assert_int_equal(preview.changed_count, 0);
    assert_false(preview_moved(&preview));
    preview_done(&preview);
}

static void test_thresholds_stay_in_order_and_in_range(void **state)
{
    (void)state;
    struct preview preview;
    preview_with(&preview, scores, COUNT, NO_PLACES);
    preview_turn(&preview, DIAL_HOLD_AT, 100);
    assert_int_equal(preview.run.standard.hold_at, 6500);
    preview_turn(&preview, DIAL_KEEP_AT, -1000);
    assert_int_equal(preview.run.standard.keep_at, 0);
    assert_int_equal(preview.run.standard.hold_at, 0);
    assert_counts(&preview, 6, 0, 0, 1);
    preview_turn(&preview, DIAL_KEEP_AT, 1000);
    assert_int_equal(preview.run.standard.keep_at, 10000);
    assert_int_equal(preview.run.standard.hold_at, 0);
    assert_counts(&preview, 0, 6, 0, 1);
    preview_done(&preview);
}

/* Four pass and two of them share a rank: for two places only the best one is sure. */
static void test_places_break_no_tie(void **state)
{
    (void)state;
    struct preview preview;
    preview_with(&preview, scores, COUNT, NO_PLACES);
    preview_turn(&preview, DIAL_PLACES, 3);
    assert_int_equal(preview.run.places, 2);
    assert_counts(&preview, 1, 4, 1, 1);
    assert_int_equal(preview.changed_count, 3);
    assert_int_equal(preview.first_out, 1);
    preview_turn(&preview, DIAL_PLACES, 1);
    assert_int_equal(preview.first_out, 3);
    assert_counts(&preview, 3, 2, 1, 1);
    preview_turn(&preview, DIAL_PLACES, 99);
    assert_int_equal(preview.run.places, COUNT);
    preview_turn(&preview, DIAL_PLACES, -99);
    assert_int_equal(preview.run.places, NO_PLACES);
    assert_int_equal(preview.changed_count, 0);
    assert_int_equal(preview.first_out, COUNT);
    assert_false(preview_moved(&preview));
    preview_done(&preview);
}

static void test_no_fish_at_all(void **state)
{
    (void)state;
    struct preview preview;
    preview_with(&preview, scores, 0, 5);
    preview_turn(&preview, DIAL_PLACES, 1);
    preview_turn(&preview, DIAL_KEEP_AT, 1);
    assert_counts(&preview, 0, 0, 0, 0);
    preview_done(&preview);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_at_first_nothing_changes),
        cmocka_unit_test(test_the_best_come_first_and_the_unscored_last),
        cmocka_unit_test(test_a_threshold_moved_says_who_changes_side),
        cmocka_unit_test(test_thresholds_stay_in_order_and_in_range),
        cmocka_unit_test(test_places_break_no_tie),
        cmocka_unit_test(test_no_fish_at_all),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
