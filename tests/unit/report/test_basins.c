#include "senbetsu/report/basins.h"
#include "support/test.h"

static struct fish_row lies(enum verdict basin, enum verdict stands, const char *tag)
{
    struct fish_row fish = {.sent = basin, .verdict = stands};
    text_copy(fish.tag, sizeof fish.tag, tag);
    return fish;
}

static void a_fish_lies_right_in_the_basin_of_its_verdict(void **state)
{
    (void)state;
    for (int basin = 0; basin < VERDICT_COUNT; basin++)
        for (int verdict = 0; verdict < VERDICT_COUNT; verdict++) {
            struct fish_row fish = lies((enum verdict)basin, (enum verdict)verdict, "");
            assert_int_equal(basin_is_wrong(&fish), basin != verdict);
        }
}

static void fish_are_picked_by_eye_and_found_by_tag(void **state)
{
    (void)state;
    struct fish_row fish[] = {
        lies(VERDICT_REJECT, VERDICT_REJECT, ""), lies(VERDICT_REJECT, VERDICT_KEEP, ""),
        lies(VERDICT_REJECT, VERDICT_KEEP, "T1"), lies(VERDICT_REJECT, VERDICT_REJECT, "T2"),
        lies(VERDICT_KEEP, VERDICT_HOLD, ""),     lies(VERDICT_OPEN, VERDICT_REJECT, ""),
        lies(VERDICT_OPEN, VERDICT_OPEN, ""),
    };
    struct cull_round round = {.fish = fish, .fish_count = 7};
    struct basins basins = basins_of(&round);
    const struct basin *rejects = &basins.of[VERDICT_REJECT];
    assert_int_equal(rejects->fish, 4);
    assert_int_equal(rejects->out[VERDICT_KEEP], 1);
    assert_int_equal(rejects->by_tag, 1);
    assert_int_equal(basin_picked(rejects), 1);
    assert_int_equal(basins.of[VERDICT_KEEP].out[VERDICT_HOLD], 1);
    assert_int_equal(basins.of[VERDICT_OPEN].fish, 2);
    assert_int_equal(basins.after[VERDICT_REJECT], 3);
    assert_int_equal(basins.after[VERDICT_KEEP], 2);
    assert_int_equal(basins.after[VERDICT_HOLD], 1);
}

static struct basins picked(struct fish_row *fish, size_t count, struct picks picks)
{
    struct cull_round round = {.fish = fish, .fish_count = count, .picks = picks};
    struct basins basins = basins_of(&round);
    int lie = 0, after = 0;
    for (int basin = 0; basin < VERDICT_COUNT; basin++) {
        int left = basins.of[basin].fish - basin_picked(&basins.of[basin]);
        assert_true(left >= 0 && basins.after[basin] >= 0);
        lie += basins.of[basin].fish;
        after += basins.after[basin];
    }
    assert_int_equal(lie, count); /* no fish is lost or made */
    assert_int_equal(after, count);
    return basins;
}

/* Three kept; of those that tie three lie in the keep basin and two in the hold basin, with one
 * held for a fault. */
static void fish_that_were_picked_lie_in_the_keep_basin(void **state)
{
    (void)state;
    struct fish_row fish[] = {
        lies(VERDICT_KEEP, VERDICT_KEEP, ""), lies(VERDICT_KEEP, VERDICT_KEEP, ""),
        lies(VERDICT_KEEP, VERDICT_KEEP, ""), lies(VERDICT_KEEP, VERDICT_HOLD, ""),
        lies(VERDICT_KEEP, VERDICT_HOLD, ""), lies(VERDICT_KEEP, VERDICT_HOLD, ""),
        lies(VERDICT_HOLD, VERDICT_HOLD, ""), lies(VERDICT_HOLD, VERDICT_HOLD, ""),
        lies(VERDICT_HOLD, VERDICT_HOLD, ""), lies(VERDICT_OPEN, VERDICT_HOLD, ""),
    };
    struct basins basins = picked(fish, 10, (struct picks){.from_hold = 2, .stay = 1});
    assert_int_equal(basins.of[VERDICT_KEEP].fish, 8);
    assert_int_equal(basins.of[VERDICT_KEEP].out[VERDICT_HOLD], 2); /* the weakest of them */
    assert_int_equal(basins.of[VERDICT_HOLD].fish, 1);
    assert_int_equal(basins.after[VERDICT_KEEP], 6);
    assert_int_equal(basins.after[VERDICT_HOLD], 4);

    basins = picked(fish, 10, (struct picks){.stay = 3});
    assert_int_equal(basins.of[VERDICT_KEEP].fish, 6);
    assert_int_equal(basins.of[VERDICT_KEEP].out[VERDICT_HOLD], 0);
    assert_int_equal(basins.after[VERDICT_KEEP], 6);

    basins =
        picked(fish, 10, (struct picks){.from_hold = 4}); /* one more than the hold basin had */
    assert_int_equal(basins.of[VERDICT_HOLD].fish, 0);
    assert_int_equal(basins.of[VERDICT_OPEN].fish, 0);
    assert_int_equal(basins.after[VERDICT_KEEP], 7);

    basins = picked(fish, 10, (struct picks){.from_hold = 9, .stay = 9}); /* more than are held */
    assert_int_equal(basins.after[VERDICT_KEEP], 10);
    assert_int_equal(basins.after[VERDICT_HOLD], 0);
}

static struct fish_row ties(enum verdict basin)
{
    struct fish_row fish = lies(basin, VERDICT_HOLD, "");
    fish.rank = 2;
    text_copy(fish.reason, sizeof fish.reason, "places");
    return fish;
}

/* One is kept of four places; three tie in the keep basin and four in the hold basin. */
static struct cull_round tied_round(struct fish_row fish[9])
{
    fish[0] = lies(VERDICT_KEEP, VERDICT_KEEP, "");
    for (int i = 1; i < 8; i++)
        fish[i] = ties(i < 4 ? VERDICT_KEEP : VERDICT_HOLD);
    fish[8] = ties(VERDICT_HOLD);
    fish[8].rank = 9; /* held as well, behind the tie */
    return (struct cull_round){
        .fish = fish, .fish_count = 9, .passed = "2026-11-05 16:20", .places = 4};
}

static void a_tie_is_filled_from_the_keep_basin_first(void **state)
{
    (void)state;
    struct fish_row fish[9];
    struct cull_round round = tied_round(fish);
    struct cull_tie tie = cull_tie_of(&round);
    assert_int_equal(tie.fish, 7);
    assert_int_equal(tie.places, 3);
    struct basins basins = basins_of(&round);
    assert_int_equal(basin_picked(&basins.of[VERDICT_KEEP]), 0);
    assert_int_equal(basin_picked(&basins.of[VERDICT_HOLD]), 0);
    assert_int_equal(basins.after[VERDICT_KEEP], 4);
    assert_int_equal(basins.after[VERDICT_HOLD], 5);
    round.places = 6;
    basins = basins_of(&round);
    assert_int_equal(basins.of[VERDICT_HOLD].out[VERDICT_KEEP], 2);
    assert_int_equal(basins.after[VERDICT_KEEP], 6);
    round.places = 2;
    basins = basins_of(&round);
    assert_int_equal(basins.of[VERDICT_KEEP].out[VERDICT_HOLD], 2);
    assert_int_equal(basins.after[VERDICT_KEEP], 2);
    round.places = 8;
    assert_int_equal(cull_tie_of(&round).fish, 0);
    round.places = 4;
    round.passed[0] = '\0';
    assert_int_equal(cull_tie_of(&round).fish, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fish_lies_right_in_the_basin_of_its_verdict),
        cmocka_unit_test(fish_are_picked_by_eye_and_found_by_tag),
        cmocka_unit_test(fish_that_were_picked_lie_in_the_keep_basin),
        cmocka_unit_test(a_tie_is_filled_from_the_keep_basin_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
