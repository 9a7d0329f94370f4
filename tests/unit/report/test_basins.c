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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fish_lies_right_in_the_basin_of_its_verdict),
        cmocka_unit_test(fish_are_picked_by_eye_and_found_by_tag),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
