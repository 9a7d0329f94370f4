#include "senbetsu/report/second_look.h"
#include "support/test.h"
#include "support/trial_fish.h"

/* A fish that has been closed in this look with this score (SCORE_NONE = still open). */
static struct fish fish_with(int number, int look, int score, int earlier)
{
    struct fish fish;
    fish_init(&fish, number, 1, 1, number);
    fish.look = look;
    fish.judgement.scores[0] = (int8_t)score;
    fish.closed = score != SCORE_NONE;
    fish.earlier.scores[0] = (int8_t)earlier;
    return fish;
}

enum { KEEP = 8, HOLD = 5, REJECT = 1 };

static void assert_picked(struct fish *fish, size_t count, const char *numbers)
{
    struct standard standard = preview_standard();
    char picked[64] = "";
    size_t picked_count = second_look_pick(fish, count, &standard);
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
    assert_picked(fish, 5, "2 4 ");
}

/* One has been kept at its second look, one is half judged, one still waits. */
static void test_a_look_broken_off_goes_on(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, KEEP, SCORE_NONE), fish_with(2, 2, KEEP, HOLD),
                          fish_with(3, 2, SCORE_NONE, HOLD), fish_with(4, 1, HOLD, SCORE_NONE)};
    assert_picked(fish, 4, "2 3 4 ");
}

/* All have had their second look; only the one held again has a third. */
static void test_a_third_look_is_for_those_held_again(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 2, KEEP, HOLD), fish_with(2, 2, HOLD, HOLD),
                          fish_with(3, 2, REJECT, HOLD)};
    assert_picked(fish, 3, "2 ");
}

static void test_nobody_is_held(void **state)
{
    (void)state;
    struct fish fish[] = {fish_with(1, 1, KEEP, SCORE_NONE), fish_with(2, 2, KEEP, HOLD)};
    assert_picked(fish, 2, "");
    assert_picked(fish, 0, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_held_fish_come_up),
        cmocka_unit_test(test_a_look_broken_off_goes_on),
        cmocka_unit_test(test_a_third_look_is_for_those_held_again),
        cmocka_unit_test(test_nobody_is_held),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
