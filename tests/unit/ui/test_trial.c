#include "senbetsu/ui/trial.h"
#include "support/trial_fish.h"

/* In points: 88.9, 33.3, 77.8, none, 77.8, 66.7, 55.6. */
static const int scores[] = {8, 3, 7, SCORE_NONE, 7, 6, 5};
enum { COUNT = sizeof scores / sizeof scores[0] };

static void assert_counts(const struct trial *trial, int keep, int hold, int reject, int open)
{
    assert_int_equal(trial->verdicts[VERDICT_KEEP], keep);
    assert_int_equal(trial->verdicts[VERDICT_HOLD], hold);
    assert_int_equal(trial->verdicts[VERDICT_REJECT], reject);
    assert_int_equal(trial->verdicts[VERDICT_OPEN], open);
}

static void test_at_first_nothing_changes(void **state)
{
    (void)state;
    struct trial trial;
    trial_with(&trial, scores, COUNT, NO_PLACES);
    assert_counts(&trial, 4, 1, 1, 1);
    assert_int_equal(trial.changed_count, 0);
    assert_false(trial_moved(&trial));
    trial_done(&trial);
}

static void test_the_best_come_first_and_the_unscored_last(void **state)
{
    (void)state;
    static const size_t expected[] = {0, 2, 4, 5, 6, 1, 3};
    struct trial trial;
    trial_with(&trial, scores, COUNT, NO_PLACES);
    for (size_t i = 0; i < COUNT; i++)
        assert_int_equal(trial.order[i], expected[i]);
    trial_done(&trial);
}

/* From 65 up to 67: only the fish at 66.7 falls, and it falls to hold. */
static void test_a_threshold_moved_says_who_changes_side(void **state)
{
    (void)state;
    struct trial trial;
    trial_with(&trial, scores, COUNT, NO_PLACES);
    trial_turn(&trial, DIAL_KEEP_AT, 3);
    assert_int_equal(trial.standard.keep_at, 6650);
    assert_int_equal(trial.changed_count, 0);
    trial_turn(&trial, DIAL_KEEP_AT, 1);
    assert_counts(&trial, 3, 2, 1, 1);
    assert_int_equal(trial.changed_count, 1);
    assert_int_equal(trial.changed[0], 5);
    assert_true(trial_moved(&trial));
    trial_turn(&trial, DIAL_KEEP_AT, -4);
    assert_int_equal(trial.changed_count, 0);
    assert_false(trial_moved(&trial));
    trial_done(&trial);
}

static void test_thresholds_stay_in_order_and_in_range(void **state)
{
    (void)state;
    struct trial trial;
    trial_with(&trial, scores, COUNT, NO_PLACES);
    trial_turn(&trial, DIAL_HOLD_AT, 100);
    assert_int_equal(trial.standard.hold_at, 6500);
    trial_turn(&trial, DIAL_KEEP_AT, -1000);
    assert_int_equal(trial.standard.keep_at, 0);
    assert_int_equal(trial.standard.hold_at, 0);
    assert_counts(&trial, 6, 0, 0, 1);
    trial_turn(&trial, DIAL_KEEP_AT, 1000);
    assert_int_equal(trial.standard.keep_at, 10000);
    assert_int_equal(trial.standard.hold_at, 0);
    assert_counts(&trial, 0, 6, 0, 1);
    trial_done(&trial);
}

/* Four pass and two of them share a rank: for two places only the best one is sure. */
static void test_places_break_no_tie(void **state)
{
    (void)state;
    struct trial trial;
    trial_with(&trial, scores, COUNT, NO_PLACES);
    trial_turn(&trial, DIAL_PLACES, 3);
    assert_int_equal(trial.places, 2);
    assert_counts(&trial, 1, 4, 1, 1);
    assert_int_equal(trial.changed_count, 3);
    assert_int_equal(trial.first_out, 1);
    trial_turn(&trial, DIAL_PLACES, 1);
    assert_int_equal(trial.first_out, 3);
    assert_counts(&trial, 3, 2, 1, 1);
    trial_turn(&trial, DIAL_PLACES, 99);
    assert_int_equal(trial.places, COUNT);
    trial_turn(&trial, DIAL_PLACES, -99);
    assert_int_equal(trial.places, NO_PLACES);
    assert_int_equal(trial.changed_count, 0);
    assert_int_equal(trial.first_out, COUNT);
    assert_false(trial_moved(&trial));
    trial_done(&trial);
}

static void test_no_fish_at_all(void **state)
{
    (void)state;
    struct trial trial;
    trial_with(&trial, scores, 0, 5);
    trial_turn(&trial, DIAL_PLACES, 1);
    trial_turn(&trial, DIAL_KEEP_AT, 1);
    assert_counts(&trial, 0, 0, 0, 0);
    trial_done(&trial);
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
