#include "senbetsu/report/families.h"
#include "senbetsu/screens/round_lines.h"
#include "support/test.h"

static void test_a_spawning_takes_its_own_rounds(void **state)
{
    (void)state;
    struct round_summary rounds[] = {
        {.round = {.spawning = "K1", .lot = "K1", .own_lot = true, .stage = STAGE_SECOND}},
        {.round = {.spawning = "S2", .lot = "S2", .own_lot = true, .stage = STAGE_SECOND}},
        {.round = {.spawning = "K1", .lot = "north", .stage = STAGE_THIRD, .places = 20},
         .bowls = 3,
         .tally = {60, 18, {0, 9, 3, 6}}},
    };
    struct spawning spawning = {.code = "K1", .season = 2026, .dam = "K7", .sires = "P2"};
    struct home_spawning line;
    home_spawning_fill(&line, &spawning);
    home_spawning_add_rounds(&line, rounds, 3);
    assert_string_equal(line.pair, "K7 × P2");
    assert_int_equal(line.round_count, 2);
    assert_string_equal(line.rounds[0].lot, "");
    assert_string_equal(line.rounds[1].lot, "north");
    assert_int_equal(line.rounds[1].bowls, 3);
    assert_int_equal(line.rounds[1].places, 20);
    assert_int_equal(line.rounds[1].tally.verdicts[VERDICT_HOLD], 3);
    free(line.rounds);
}

static void test_a_lot_names_what_its_fish_are(void **state)
{
    (void)state;
    struct lot_origin lot = {
        .lot = "barn", .spawnings = (char[]){"K1;K2"}, .mixed = true, .season = 2026};
    struct home_spawning line;
    home_spawning_fill_lot(&line, &lot);
    assert_string_equal(line.code, "barn");
    assert_string_equal(line.pair, "mixed from K1;K2");
    lot = (struct lot_origin){.lot = "west", .spawnings = (char[]){"K1"}, .variety = "Plain"};
    home_spawning_fill_lot(&line, &lot);
    assert_string_equal(line.pair, "lot of K1");
    assert_string_equal(line.variety, "Plain");
    assert_string_equal(round_whose(&(struct round){.spawning = ""}), "mixed");
    assert_string_equal(round_whose(&(struct round){.spawning = "K1"}), "K1");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_spawning_takes_its_own_rounds),
        cmocka_unit_test(test_a_lot_names_what_its_fish_are),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
