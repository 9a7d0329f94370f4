#include "chance.h"
#include "senbetsu/core/progress.h"

#include <stdlib.h>

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
static const int64_t example[] = {52, 60, 66, 71, 74, 76, 79, 82, 88};
enum { EXAMPLE_COUNT = sizeof example / sizeof *example };

static void assert_cut_over(struct cut cut, int64_t score)
{
    assert_int_equal(cut.kind, CUT_OVER);
    assert_int_equal(cut.score, score);
}

static void the_worked_example_comes_out(void **state)
{
    (void)state;
    assert_cut_over(cut_line(example, EXAMPLE_COUNT, 20, 3, 12, 40, 50), 76);
}

static void the_worked_example_with_a_tie_comes_out(void **state)
{
    (void)state;
    const int64_t tied[] = {52, 60, 66, 71, 76, 76, 79, 82, 88};
    assert_cut_over(cut_line(tied, EXAMPLE_COUNT, 20, 3, 12, 40, 50), 76);
    const int64_t tied_above[] = {52, 60, 66, 71, 76, 79, 79, 79, 88};
    assert_cut_over(cut_line(tied_above, EXAMPLE_COUNT, 20, 3, 12, 40, 50), 79);
}

static void the_worked_example_later_in_the_evening_comes_out(void **state)
{
    (void)state;
    const int64_t later[] = {70, 71, 74, 76, 76, 79, 80, 82, 83, 85, 86, 88};
    assert_cut_over(cut_line(later, 12, 50, 9, 12, 10, 50), 74); /* 10.2 of 51: 10 */
    assert_int_equal(cut_line(later, 12, 50, 12, 12, 10, 50).kind, CUT_NONE);
    assert_cut_over(cut_line(later, 12, 50, 2, 12, 10, 50), 74); /* the places left say nothing */
    assert_cut_over(cut_line(later, 12, 60, 9, 11, 0, 50), 70);  /* all are judged: the best 11 */
    assert_int_equal(cut_line(later, 12, 60, 9, 12, 0, 50).kind, CUT_ALL);
}

static void the_share_of_the_best_is_rounded_halves_up(void **state)
{
    (void)state;
    const int64_t scores[] = {60, 70, 80, 90};
    /* Of the first 10 of 40: 3 places make 0.75, 5 make 1.25, 6 make 1.5. */
    assert_cut_over(cut_line(scores, 4, 9, 0, 3, 31, 0), 90);
    assert_cut_over(cut_line(scores, 4, 9, 0, 5, 31, 0), 90);
    assert_cut_over(cut_line(scores, 4, 9, 0, 6, 31, 0), 80);
    assert_int_equal(cut_line(scores, 4, 9, 0, 1, 31, 0).kind, CUT_EARLY); /* 0.25 */
    assert_cut_over(cut_line(scores, 4, 9, 0, 2, 31, 0), 90);              /* 0.5 */
}

static void below_keep_every_fish_that_passes_is_kept(void **state)
{
    (void)state;
    const int64_t scores[] = {60, 70, 80, 90};
    assert_cut_over(cut_line(scores, 4, 9, 0, 6, 31, 80), 80);
    assert_int_equal(cut_line(scores, 4, 9, 0, 6, 31, 81).kind, CUT_ALL);
    assert_int_equal(cut_line(scores, 1, 9, 0, 6, 31, 80).kind, CUT_ALL); /* one good fish yet */
    assert_int_equal(cut_line(NULL, 0, 9, 0, 6, 31, 80).kind, CUT_ALL);
}

static void full_places_and_enough_places_need_no_estimate(void **state)
{
    (void)state;
    const int64_t score = 70;
    assert_int_equal(cut_line(&score, 1, 1, 5, 5, 40, 0).kind, CUT_NONE);
    assert_int_equal(cut_line(&score, 1, 1, 6, 5, 40, 0).kind, CUT_NONE);
    assert_int_equal(cut_line(NULL, 0, 0, 0, 0, 40, 0).kind, CUT_NONE);
    assert_int_equal(cut_line(&score, 1, 1, 2, 42, 40, 0).kind, CUT_ALL);
    assert_int_equal(cut_line(NULL, 0, 0, 0, 60, 60, 0).kind, CUT_ALL);
    assert_int_equal(cut_line(&score, 1, 1, 5, 5, 0, 0).kind, CUT_NONE);
}

static void what_is_not_known_gives_no_line(void **state)
{
    (void)state;
    const int64_t score = 70;
    assert_int_equal(cut_line(&score, 1, 10, 0, -1, 40, 0).kind, CUT_UNKNOWN);
    assert_int_equal(cut_line(&score, 1, 10, 0, 5, -1, 0).kind, CUT_UNKNOWN);
    assert_int_equal(cut_line(&score, 1, 10, 5, 5, -1, 0).kind, CUT_NONE); /* full is full */
    assert_int_equal(cut_line(NULL, 0, 0, 0, 5, 40, 0).kind, CUT_EARLY);
}

static void a_line_says_which_fish_have_a_place(void **state)
{
    (void)state;
    const struct cut over = {.kind = CUT_OVER, .score = 70};
    assert_false(cut_has_place(over, 70));
    assert_true(cut_has_place(over, 71));
    assert_true(cut_has_place((struct cut){.kind = CUT_ALL}, 0));
    assert_true(cut_has_place((struct cut){.kind = CUT_UNKNOWN}, 0));
    assert_false(cut_has_place((struct cut){.kind = CUT_EARLY}, 100));
    assert_false(cut_has_place((struct cut){.kind = CUT_NONE}, 100));
}

/* The rule by its own words: the next fish, with any score, among those judged so far. */
static bool among_the_best(const int64_t *scores, int count, int judged, int places, int left,
                           int64_t score)
{
    int rank = 1;
    for (int i = 0; i < count; i++)
        rank += scores[i] >= score;
    /* rank <= places · (judged + 1) / expected + 1/2 */
    int expected = judged + left;
    return 2 * rank * expected <= 2 * places * (judged + 1) + expected;
}

static int ascending(const void *a, const void *b)
{
    int64_t score_a = *(const int64_t *)a, score_b = *(const int64_t *)b;
    return (score_a > score_b) - (score_a < score_b);
}

static void the_line_follows_the_words_of_the_rule(void **state)
{
    (void)state;
    enum { SCORES = 30 };
    struct chance chance = {7};
    for (int run = 0; run < 3000; run++) {
        int64_t scores[60];
        int judged = chance_between(&chance, 0, 60);
        int count = chance_between(&chance, 0, judged);
        int distinct = chance_between(&chance, 1, SCORES);
        for (int i = 0; i < count; i++)
            scores[i] = chance_below(&chance, distinct);
        qsort(scores, (size_t)count, sizeof *scores, ascending);
        int kept = chance_below(&chance, count + 1);
        int left = chance_between(&chance, 1, 200);
        int places = kept + chance_between(&chance, 1, 30);
        int64_t keep_at = chance_below(&chance, distinct);
        struct cut cut = cut_line(scores, (size_t)count, judged, kept, places, left, keep_at);
        for (int64_t score = keep_at; score <= SCORES; score++)
            assert_int_equal(cut_has_place(cut, score),
                             places >= judged + left ||
                                 among_the_best(scores, count, judged, places, left, score));
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
        cmocka_unit_test(the_share_of_the_best_is_rounded_halves_up),
        cmocka_unit_test(below_keep_every_fish_that_passes_is_kept),
        cmocka_unit_test(full_places_and_enough_places_need_no_estimate),
        cmocka_unit_test(what_is_not_known_gives_no_line),
        cmocka_unit_test(a_line_says_which_fish_have_a_place),
        cmocka_unit_test(the_line_follows_the_words_of_the_rule),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
