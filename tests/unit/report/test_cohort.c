#include "cohort.h"
#include "senbetsu/report/rounds.h"
#include "support/test.h"

enum { K1 = 1, WEST, K2, BOTH, LOTS = BOTH, MOST = 8 };

/* K1 with its lot west, K2, and a lot mixed from both. */
struct farm {
    struct lot_origin lots[LOTS];
    struct cull_numbers rounds[MOST];
    struct lot_event events[MOST];
    size_t round_count, event_count;
    struct rate_units units;
};

static char k1[] = "K1", k2[] = "K2", k1_k2[] = "K1;K2";

static struct farm farm(void)
{
    return (struct farm){.lots = {{.lot_id = K1, .spawning_id = 1, .own = true, .spawnings = k1},
                                  {.lot_id = WEST, .spawning_id = 1, .spawnings = k1},
                                  {.lot_id = K2, .spawning_id = 2, .own = true, .spawnings = k2},
                                  {.lot_id = BOTH, .mixed = true, .spawnings = k1_k2}}};
}

static void cull(struct farm *farm, int64_t lot, enum stage stage, int64_t in, int64_t kept)
{
    farm->rounds[farm->round_count++] = (struct cull_numbers){.lot_id = lot,
                                                              .stage = stage,
                                                              .in = {in, METHOD_COUNTED, 0},
                                                              .kept = {kept, METHOD_COUNTED, 0},
                                                              .dead = NOT_COUNTED,
                                                              .day = "2026-07-10"};
}

/* `number` NOT_COUNTED = all there were. */
static struct lot_event *transfer(struct farm *farm, int64_t from, int64_t into, enum stage after,
                                  int64_t number)
{
    struct lot_event *event = &farm->events[farm->event_count++];
    *event = (struct lot_event){.lot_id = from,
                                .target_id = into,
                                .kind = EVENT_TRANSFER,
                                .all = number == NOT_COUNTED,
                                .fish = {number, METHOD_COUNTED, 0},
                                .after = after,
                                .followed = true};
    return event;
}

static void die(struct farm *farm, int64_t lot, enum stage after, int64_t number)
{
    farm->events[farm->event_count++] = (struct lot_event){.lot_id = lot,
                                                           .kind = EVENT_DEAD,
                                                           .fish = {number, METHOD_COUNTED, 0},
                                                           .after = after,
                                                           .followed = true};
}

static void follow(struct farm *farm, bool together)
{
    rate_units_init(&farm->units, together, farm->lots, LOTS, farm->rounds, farm->round_count,
                    farm->events, farm->event_count);
}

static struct rate_cell cell(const struct farm *farm, int64_t lot, enum stage stage)
{
    return farm->units.list[farm->units.of[lot - 1]].cells[stage];
}

static void assert_alive(const struct farm *farm, int64_t lot, enum stage stage, int64_t alive,
                         int64_t before, enum stage after)
{
    struct rate_cell found = cell(farm, lot, stage);
    assert_int_equal(found.alive, alive);
    assert_int_equal(found.before, before);
    assert_int_equal(found.after, after);
}

static void test_a_lot_alone(void **state)
{
    (void)state;
    struct farm season = farm();
    season.lots[0].hatched = 25000;
    cull(&season, K1, STAGE_FIRST, 20000, 2000);
    cull(&season, K1, STAGE_SECOND, 1900, 600);
    die(&season, K1, STAGE_COUNT, 40);
    die(&season, K1, STAGE_FIRST, 30);
    die(&season, K1, STAGE_FIRST, 7);
    follow(&season, true);
    assert_alive(&season, K1, STAGE_FIRST, 20000, 25000, STAGE_COUNT);
    assert_alive(&season, K1, STAGE_SECOND, 1900, 2000, STAGE_FIRST);
    assert_int_equal(cell(&season, K1, STAGE_FIRST).cull.dead, 40);
    assert_int_equal(cell(&season, K1, STAGE_SECOND).cull.dead, 37);
    rate_units_done(&season.units);
}

static void test_a_cull_at_work_says_nothing_of_survival(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_SECOND, 1900, 600);
    cull(&season, K1, STAGE_THIRD, 44, 12);
    season.rounds[1].in_so_far = true;
    follow(&season, true);
    assert_int_equal(cell(&season, K1, STAGE_THIRD).before, 0);
    rate_units_done(&season.units);
}

/* 4 of 100 are judged: the rate is of 4, and nobody knows what the cull keeps. */
static void test_a_cull_at_work_counts_as_far_as_it_is(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_SECOND, 100, 3);
    cull(&season, K1, STAGE_THIRD, 90, 30);
    season.rounds[0].done = 4;
    season.rounds[0].whole = 100;
    follow(&season, true);
    assert_int_equal(cell(&season, K1, STAGE_SECOND).cull.in, 4);
    assert_int_equal(cell(&season, K1, STAGE_SECOND).cull.done, 4);
    assert_int_equal(cell(&season, K1, STAGE_SECOND).cull.whole, 100);
    assert_int_equal(cell(&season, K1, STAGE_THIRD).before, 0);
    rate_units_done(&season.units);
}

/* 900 of 2000 go to the west pond; whether lots are looked at together or not. */
static void test_fish_of_a_split_are_followed(void **state)
{
    (void)state;
    for (int together = 0; together < 2; together++) {
        struct farm season = farm();
        cull(&season, K1, STAGE_FIRST, 20000, 2000);
        cull(&season, K1, STAGE_SECOND, 1000, 400);
        cull(&season, WEST, STAGE_THIRD, 850, 300);
        transfer(&season, K1, WEST, STAGE_FIRST, 900);
        follow(&season, together);
        assert_alive(&season, K1, STAGE_SECOND, 1000, 1100, STAGE_FIRST);
        assert_alive(&season, WEST, STAGE_THIRD, 850, 900, STAGE_FIRST);
        assert_int_equal(season.units.list[WEST - 1].inherited, 1U << STAGE_FIRST);
        rate_units_done(&season.units);
    }
}

/* All of a lot: also those that died meanwhile are missed where the others went, and are told. */
static void test_all_of_several_lots_are_followed(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_SECOND, 1000, 400);
    cull(&season, K2, STAGE_SECOND, 880, 264);
    cull(&season, BOTH, STAGE_HARVEST, 600, 200);
    die(&season, K1, STAGE_SECOND, 12);
    transfer(&season, K1, BOTH, STAGE_SECOND, NOT_COUNTED)->fish.number = 388;
    transfer(&season, K2, BOTH, STAGE_SECOND, NOT_COUNTED)->fish.number = 264;
    follow(&season, true);
    assert_alive(&season, BOTH, STAGE_HARVEST, 600, 664, STAGE_SECOND);
    assert_int_equal(cell(&season, BOTH, STAGE_HARVEST).cull.dead, 12);
    assert_int_equal(cell(&season, K1, STAGE_SECOND).cull.dead, NOT_COUNTED);
    rate_units_done(&season.units);
}

/* Nobody wrote down how the lots were split: together they are all fish there are. */
static void test_lots_without_transfers_are_one(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_FIRST, 20000, 2000);
    cull(&season, K1, STAGE_SECOND, 1000, 400);
    cull(&season, WEST, STAGE_SECOND, 800, 300);
    struct farm apart = season;
    apart.lots[BOTH - 1] = season.lots[BOTH - 1] =
        (struct lot_origin){.lot_id = BOTH, .own = true, .spawning_id = 3, .spawnings = k2};
    follow(&season, true);
    assert_alive(&season, K1, STAGE_SECOND, 1800, 2000, STAGE_FIRST);
    assert_int_equal(season.units.of[WEST - 1], K1 - 1);
    rate_units_done(&season.units);
    follow(&apart, false);
    assert_int_equal(cell(&apart, K1, STAGE_SECOND).before, 0);
    assert_int_equal(cell(&apart, WEST, STAGE_SECOND).before, 0);
    rate_units_done(&apart.units);
}

/* A mixed lot into which nobody is said to have put the fish of K2. */
static void test_half_a_story_is_none(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_FIRST, 20000, 2000);
    cull(&season, K2, STAGE_FIRST, 10000, 900);
    cull(&season, K2, STAGE_SECOND, 400, 100);
    cull(&season, BOTH, STAGE_SECOND, 600, 200);
    transfer(&season, K1, BOTH, STAGE_FIRST, NOT_COUNTED);
    follow(&season, true);
    assert_int_equal(cell(&season, BOTH, STAGE_SECOND).before, 0);
    assert_int_equal(cell(&season, K2, STAGE_SECOND).before, 0);
    assert_int_equal(cell(&season, BOTH, STAGE_SECOND).rounds, 1);
    rate_units_done(&season.units);
}

static void test_what_cannot_be_told_is_not(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_FIRST, 20000, 2000);
    cull(&season, K1, STAGE_SECOND, NOT_COUNTED, NOT_COUNTED);
    cull(&season, K1, STAGE_THIRD, 300, 100);
    cull(&season, WEST, STAGE_SECOND, 200, 90);
    cull(&season, WEST, STAGE_THIRD, 80, 40);
    transfer(&season, K1, WEST, STAGE_FIRST, 250)->followed = false;
    cull(&season, K2, STAGE_FIRST, 10000, NOT_COUNTED);
    cull(&season, K2, STAGE_SECOND, 900, 300);
    follow(&season, true);
    assert_int_equal(cell(&season, K1, STAGE_THIRD).before, 0);
    assert_int_equal(cell(&season, WEST, STAGE_SECOND).before, 0);
    assert_int_equal(cell(&season, K2, STAGE_SECOND).before, 0);
    assert_int_equal(cell(&season, K2, STAGE_SECOND).rounds, 1);
    rate_units_done(&season.units);
}

/* Fish that nobody missed turned up again. */
static void test_more_than_should_be_there(void **state)
{
    (void)state;
    struct farm season = farm();
    cull(&season, K1, STAGE_FIRST, 20000, 2000);
    cull(&season, K1, STAGE_SECOND, 2010, 400);
    cull(&season, K1, STAGE_THIRD, 400, 100);
    follow(&season, true);
    assert_true(cell(&season, K1, STAGE_SECOND).cull.recovered);
    assert_false(cell(&season, K1, STAGE_FIRST).cull.recovered);
    assert_false(cell(&season, K1, STAGE_THIRD).cull.recovered);
    rate_units_done(&season.units);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_lot_alone),
        cmocka_unit_test(test_a_cull_at_work_counts_as_far_as_it_is),
        cmocka_unit_test(test_fish_of_a_split_are_followed),
        cmocka_unit_test(test_all_of_several_lots_are_followed),
        cmocka_unit_test(test_lots_without_transfers_are_one),
        cmocka_unit_test(test_half_a_story_is_none),
        cmocka_unit_test(test_what_cannot_be_told_is_not),
        cmocka_unit_test(test_a_cull_at_work_says_nothing_of_survival),
        cmocka_unit_test(test_more_than_should_be_there),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
