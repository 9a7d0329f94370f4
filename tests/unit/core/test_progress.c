#include "chance.h"
#include "senbetsu/core/progress.h"

static void verdicts_are_counted(void **state)
{
    (void)state;
    struct verdict_counts tally = {.expected = 60};
    verdict_counts_add(&tally, VERDICT_KEEP);
    verdict_counts_add(&tally, VERDICT_REJECT);
    verdict_counts_add(&tally, VERDICT_REJECT);
    verdict_counts_add(&tally, VERDICT_HOLD);
    verdict_counts_add(&tally, VERDICT_OPEN);
    assert_int_equal(tally.judged, 4);
    assert_int_equal(tally.verdicts[VERDICT_KEEP], 1);
    assert_int_equal(tally.verdicts[VERDICT_HOLD], 1);
    assert_int_equal(tally.verdicts[VERDICT_REJECT], 2);
    assert_int_equal(tally.verdicts[VERDICT_OPEN], 1);
    assert_int_equal(tally.expected, 60);
}

enum { SECOND = 1000, MINUTE = 60 * SECOND };

static void the_pace_leaves_breaks_out(void **state)
{
    (void)state;
    /* Four fish in 30 s, a quarter of an hour of tea, three more in 30 s: six in one minute. */
    const int64_t tea[] = {0,
                           10 * SECOND,
                           20 * SECOND,
                           30 * SECOND,
                           930 * SECOND,
                           940 * SECOND,
                           950 * SECOND,
                           960 * SECOND};
    assert_int_equal(pace_per_hour(tea, 8), 360);
    const int64_t slow[] = {0, 5 * MINUTE, 10 * MINUTE, 15 * MINUTE, 20 * MINUTE};
    assert_int_equal(pace_per_hour(slow, 5), 12);
    const int64_t rounded[] = {0, 7 * SECOND, 14 * SECOND, 21 * SECOND, 28 * SECOND}; /* 514.29 */
    assert_int_equal(pace_per_hour(rounded, 5), 514);
}

static void a_pace_takes_five_fish(void **state)
{
    (void)state;
    const int64_t fish[] = {0, SECOND, 2 * SECOND, 3 * SECOND, 4 * SECOND};
    assert_int_equal(pace_per_hour(fish, 2), 0);
    assert_int_equal(pace_per_hour(fish, PACE_FEWEST - 1), 0);
    assert_int_equal(pace_per_hour(fish, PACE_FEWEST), 3600);
    /* The fish that ended a break says nothing. */
    const int64_t after_tea[] = {
        0, 900 * SECOND, 910 * SECOND, 920 * SECOND, 930 * SECOND, 940 * SECOND};
    assert_int_equal(pace_per_hour(after_tea, 5), 0);
    assert_int_equal(pace_per_hour(after_tea, 6), 360);
}

static void without_time_there_is_no_pace(void **state)
{
    (void)state;
    const int64_t same[] = {5000, 5000, 5000, 5000, 5000};
    assert_int_equal(pace_per_hour(NULL, 0), 0);
    assert_int_equal(pace_per_hour(same, 1), 0);
    assert_int_equal(pace_per_hour(same, 5), 0);
    enum { APART = 5 * MINUTE + 1 };
    const int64_t apart[] = {0, APART, 2 * APART, 3 * APART, 4 * APART};
    assert_int_equal(pace_per_hour(apart, 5), 0);
    const int64_t clock_put_back[] = {0,           10 * SECOND, 20 * SECOND,
                                      15 * SECOND, 25 * SECOND, 35 * SECOND};
    assert_int_equal(pace_per_hour(clock_put_back, 6), 360);
}

/* The worked example of docs/cut-line.md: 60 fish are expected, 20 are judged, 9 of those could be
 * kept, 3 are kept; there are 12 places. */
static const int64_t example[] = {66, 88, 52, 79, 71, 82, 60, 76, 74};
enum { EXAMPLE_COUNT = sizeof example / sizeof *example };

static void assert_cut_at(struct cut cut, int64_t score)
{
    assert_int_equal(cut.kind, CUT_AT);
    assert_int_equal(cut.score, score);
}

static void the_worked_example_comes_out(void **state)
{
    (void)state;
    assert_cut_at(cut_line(example, EXAMPLE_COUNT, 20, 3, 12, 40), 76);
}

static void the_worked_example_with_a_tie_comes_out(void **state)
{
    (void)state;
    const int64_t tied[] = {66, 88, 52, 79, 71, 82, 60, 76, 76};
    assert_cut_at(cut_line(tied, EXAMPLE_COUNT, 20, 3, 12, 40), 79);
}

static void the_worked_example_later_in_the_evening_comes_out(void **state)
{
    (void)state;
    /* 50 of 60 are judged, 11 of 12 places are taken; 10 fish to come for one place. */
    const int64_t later[] = {88, 86, 85, 83, 82, 80, 79, 76, 76, 74, 71, 70};
    assert_cut_at(cut_line(later, 12, 50, 11, 12, 10), 82);
    assert_int_equal(cut_line(later, 12, 50, 12, 12, 10).kind, CUT_NONE);
    assert_int_equal(cut_line(later, 12, 50, 2, 12, 10).kind, CUT_ALL);
}

static void a_count_that_fits_exactly_fits(void **state)
{
    (void)state;
    const int64_t scores[] = {90, 80, 70, 60, 50, 40, 30, 20, 10, 5};
    /* Half of the fish to come: 10 places for 20. */
    assert_cut_at(cut_line(scores, 10, 10, 0, 10, 20), 50);
    assert_cut_at(cut_line(scores, 10, 10, 0, 11, 20), 50);
    assert_cut_at(cut_line(scores, 10, 10, 0, 12, 20), 40);
    assert_cut_at(cut_line(scores, 10, 10, 0, 9, 20), 60);
}

static void the_best_score_seen_is_the_line_when_even_that_is_too_many(void **state)
{
    (void)state;
    const int64_t scores[] = {90, 80, 70};
    assert_cut_at(cut_line(scores, 3, 10, 0, 1, 1000), 90);
    const int64_t all_best[] = {90, 90, 90};
    assert_cut_at(cut_line(all_best, 3, 10, 0, 2, 10), 90);
}

static void the_lowest_score_seen_is_the_line_when_all_fit(void **state)
{
    (void)state;
    const int64_t scores[] = {90, 80, 70};
    assert_cut_at(cut_line(scores, 3, 10, 0, 3, 10), 70);
    assert_cut_at(cut_line(scores, 3, 10, 0, 9, 10), 70);
}

static void full_places_and_enough_places_need_no_estimate(void **state)
{
    (void)state;
    const int64_t score = 70;
    assert_int_equal(cut_line(&score, 1, 1, 5, 5, 40).kind, CUT_NONE);
    assert_int_equal(cut_line(&score, 1, 1, 6, 5, 40).kind, CUT_NONE);
    assert_int_equal(cut_line(NULL, 0, 0, 0, 0, 40).kind, CUT_NONE);
    assert_int_equal(cut_line(&score, 1, 1, 2, 42, 40).kind, CUT_ALL);
    assert_int_equal(cut_line(NULL, 0, 0, 0, 60, 60).kind, CUT_ALL);
    assert_int_equal(cut_line(&score, 1, 1, 2, 5, 0).kind, CUT_ALL); /* nothing is to come */
    assert_int_equal(cut_line(&score, 1, 1, 5, 5, 0).kind, CUT_NONE);
}

static void too_little_is_known_at_first(void **state)
{
    (void)state;
    const int64_t scores[CUT_FEWEST] = {90, 80, 70, 60, 50, 40, 30, 20, 10, 5};
    assert_int_equal(cut_line(scores, 9, 9, 0, 5, 40).kind, CUT_UNKNOWN);
    assert_int_equal(cut_line(scores, 9, 10, 0, 5, 40).kind, CUT_AT);
    assert_int_equal(cut_line(scores, 10, 10, 0, -1, 40).kind, CUT_UNKNOWN);
    assert_int_equal(cut_line(scores, 10, 10, 0, 5, -1).kind, CUT_UNKNOWN);
    assert_int_equal(cut_line(scores, 10, 10, 5, 5, -1).kind, CUT_NONE); /* full is full */
    assert_int_equal(cut_line(NULL, 0, 30, 0, 5, 40).kind, CUT_UNKNOWN);
}

/* The rule by its own words, the slow way: of all scores seen, the lowest that fits. */
static int64_t by_the_words(const int64_t *scores, int count, int judged, int places, int left)
{
    int64_t best = scores[0], lowest = INT64_MAX;
    for (int i = 0; i < count; i++) {
        int at_least = 0;
        for (int j = 0; j < count; j++)
            at_least += scores[j] >= scores[i];
        if (left * at_least <= places * judged && scores[i] < lowest)
            lowest = scores[i];
        if (scores[i] > best)
            best = scores[i];
    }
    return lowest == INT64_MAX ? best : lowest;
}

static void the_line_follows_the_words_of_the_rule(void **state)
{
    (void)state;
    struct chance chance = {7};
    for (int run = 0; run < 3000; run++) {
        int64_t scores[60];
        int judged = chance_between(&chance, CUT_FEWEST, 60);
        int count = chance_between(&chance, 1, judged);
        int distinct = chance_between(&chance, 1, 30);
        for (int i = 0; i < count; i++)
            scores[i] = chance_below(&chance, distinct);
        int kept = chance_below(&chance, count + 1);
        int places = kept + chance_between(&chance, 1, 30);
        int left = places - kept + chance_between(&chance, 1, 200);
        assert_cut_at(cut_line(scores, (size_t)count, judged, kept, places, left),
                      by_the_words(scores, count, judged, places - kept, left));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(verdicts_are_counted),
        cmocka_unit_test(the_pace_leaves_breaks_out),
        cmocka_unit_test(a_pace_takes_five_fish),
        cmocka_unit_test(without_time_there_is_no_pace),
        cmocka_unit_test(the_worked_example_comes_out),
        cmocka_unit_test(the_worked_example_with_a_tie_comes_out),
        cmocka_unit_test(the_worked_example_later_in_the_evening_comes_out),
        cmocka_unit_test(a_count_that_fits_exactly_fits),
        cmocka_unit_test(the_best_score_seen_is_the_line_when_even_that_is_too_many),
        cmocka_unit_test(the_lowest_score_seen_is_the_line_when_all_fit),
        cmocka_unit_test(full_places_and_enough_places_need_no_estimate),
        cmocka_unit_test(too_little_is_known_at_first),
        cmocka_unit_test(the_line_follows_the_words_of_the_rule),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
