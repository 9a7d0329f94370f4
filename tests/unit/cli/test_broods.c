#include "import_bench.h"
#include "senbetsu/cli/broods.h"
#include "senbetsu/store/fish.h"

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent\nD1\nD2\nP1\nP2\n", 4, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\n"
              "B2,2025,Kikusui,D1,P1,single\nA1,2026,Kikusui,D1,P1,single\n"
              "A2,2026,Kikusui,D2,P2;P1,group\nA3,2026,Kikusui,D2,,\n",
              4, 0, 0);
    take_text(*state, import_rounds,
              "spawning,lot,stage,in,in_how,in_cv,kept,kept_how\n"
              "A1,,first,1000,scooped,0.05,200,counted\nA1,,second,120,counted,,60,counted\n"
              "A1,west,second,80,counted,,20,counted\nA1;A2,both,harvest,90,counted,,40,counted\n"
              "A2,,first,500,counted,,,\nA2,,second,0,counted,,0,counted\n",
              6, 0, 0);
    return result;
}

static const struct brood *find(const struct broods *broods, const char *spawning)
{
    for (size_t i = 0; i < broods->count; i++)
        if (strcmp(broods->list[i].spawning, spawning) == 0)
            return &broods->list[i];
    return NULL;
}

static const char *pair_of(const struct broods *broods, const char *spawning)
{
    return broods->pairs.list[find(broods, spawning)->pair].text;
}

static struct broods make(struct small_ledger *small)
{
    struct broods broods;
    struct err err;
    assert_ok(broods_make(small->ledger, &broods, &err), &err);
    return broods;
}

static void stand_by_season_with_their_pairs(void **state)
{
    struct broods broods = make(*state);
    assert_int_equal(broods.count, 5);
    assert_string_equal(broods.list[0].spawning, "B2");
    assert_int_equal(broods.list[0].season, 2025);
    assert_string_equal(broods.list[1].spawning, "A1");
    assert_int_equal(broods.list[1].pair, broods.list[0].pair);
    assert_string_equal(pair_of(&broods, "A1"), "D1+P1");
    assert_string_equal(pair_of(&broods, "A2"), "D2+P1;P2");
    assert_int_equal(find(&broods, "A3")->pair, NO_KEY);
    assert_int_equal(find(&broods, "K1")->pair, NO_KEY);
    broods_done(&broods);
}

/* Of all lots of a spawning, but not of those mixed of several. */
static void add_up_their_culls(void **state)
{
    struct broods broods = make(*state);
    const struct brood *brood = find(&broods, "A1");
    assert_int_equal(brood->stages, 1U << STAGE_FIRST | 1U << STAGE_SECOND);
    assert_int_equal(brood->culls[STAGE_FIRST].in, 1000);
    assert_int_equal(brood->culls[STAGE_FIRST].kept, 200);
    assert_true(brood->culls[STAGE_FIRST].estimated);
    assert_false(brood->culls[STAGE_FIRST].error_unknown);
    assert_true(brood->culls[STAGE_FIRST].in_cv == 0.05 && brood->culls[STAGE_FIRST].kept_cv == 0);
    assert_string_equal(brood->lot->dam, "D1");
    assert_int_equal(brood->culls[STAGE_SECOND].in, 200);
    assert_int_equal(brood->culls[STAGE_SECOND].kept, 80);
    assert_false(brood->culls[STAGE_SECOND].estimated);
    broods_done(&broods);
}

static void go_through_what_was_counted(void **state)
{
    struct broods broods = make(*state);
    const struct brood *brood = find(&broods, "A1");
    assert_true(brood_went_through(brood, STAGE_FIRST, STAGE_FIRST));
    assert_true(brood_went_through(brood, STAGE_FIRST, STAGE_SECOND));
    assert_false(brood_went_through(brood, STAGE_FIRST, STAGE_HARVEST));
    assert_false(brood_went_through(brood, STAGE_BLACK, STAGE_SECOND));
    assert_false(brood_went_through(find(&broods, "A2"), STAGE_FIRST, STAGE_FIRST));
    assert_false(brood_went_through(find(&broods, "A2"), STAGE_SECOND, STAGE_SECOND));
    broods_done(&broods);
}

/* One of the 20 fish that the bowl was said to hold is judged. */
static void are_at_work_until_all_fish_are_judged(void **state)
{
    struct small_ledger *small = *state;
    struct round round;
    struct bowl bowl;
    bool is_new;
    struct err err;
    struct standing standing = {.verdict = VERDICT_REJECT};
    struct stroke stroke = {.look = 1, .at_ms = INT64_C(1787000000000), .entry_count = 1};
    stroke.entries[0] = (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_REJECT};
    assert_ok(
        round_begin_as(small->ledger, "A1", "", STAGE_THIRD, MANNER_JUDGE, &round, &is_new, &err),
        &err);
    assert_ok(bowl_begin(small->ledger, round.id, 1, 20, "2026-08-18", &bowl, &err), &err);
    assert_ok(fish_begin(small->ledger, bowl.id, 1, &stroke.fish, &err), &err);
    assert_ok(stroke_record(small->ledger, &stroke, &standing, NULL, &err), &err);
    struct broods broods = make(small);
    const struct brood *brood = find(&broods, "A1");
    assert_int_equal(brood->culls[STAGE_THIRD].in, 1);
    assert_true(brood->culls[STAGE_THIRD].at_work);
    assert_false(brood->culls[STAGE_FIRST].at_work || brood->culls[STAGE_SECOND].at_work);
    broods_done(&broods);
}

/* What is kept so far is no end of a way. */
static void a_cull_at_work_ends_no_way(void **state)
{
    (void)state;
    struct brood brood = {.stages = 1U << STAGE_FIRST | 1U << STAGE_SECOND};
    brood.culls[STAGE_FIRST] = (struct brood_cull){.in = 100, .kept = 40};
    brood.culls[STAGE_SECOND] = (struct brood_cull){.in = 10, .kept = 4};
    assert_true(brood_went_through(&brood, STAGE_FIRST, STAGE_SECOND));
    brood.culls[STAGE_SECOND].at_work = true;
    assert_false(brood_went_through(&brood, STAGE_FIRST, STAGE_SECOND));
    assert_true(brood_went_through(&brood, STAGE_SECOND, STAGE_SECOND));
}

#define on_farm(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_farm(stand_by_season_with_their_pairs),
        on_farm(add_up_their_culls),
        on_farm(go_through_what_was_counted),
        on_farm(are_at_work_until_all_fish_are_judged),
        cmocka_unit_test(a_cull_at_work_ends_no_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
