#include "senbetsu/report/due.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/tallies.h"
#include "support/import_bench.h"

#include <stdlib.h>

/* Hatched on 25 May, K2 is due for its first cull from 22 June to 9 July. */
static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_spawnings,
              "spawning,season,date,variety,hatched\nK2,2026,2026-05-20,Kohaku,25000\n"
              "K3,2026,2026-05-20,Kohaku,9000\nK4,2026,,Kohaku,100\n"
              "K5,2026,2026-05-22,Kohaku,5000\n",
              4, 0, 0);
    take_text(*state, import_rounds, "spawning,stage,date,in,kept\nK3,first,2026-07-05,8000,700\n",
              1, 0, 0);
    return result;
}

static const struct due *find(const struct due_list *list, const char *lot)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->dues[i].lot, lot) == 0)
            return &list->dues[i];
    return NULL;
}

static struct due_list make(struct small_ledger *small, const char *day)
{
    struct due_list list;
    struct err err;
    assert_ok(due_list_make(small->ledger, day, 14, NULL, &list, &err), &err);
    return list;
}

static void test_first_and_second_culls(void **state)
{
    struct due_list list = make(*state, "2026-07-09");
    const struct due *first = find(&list, "K2");
    const struct due *second = find(&list, "K3");
    assert_string_equal(list.to, "2026-07-23");
    assert_int_equal(first->stage, STAGE_FIRST);
    assert_string_equal(first->from, "2026-06-22");
    assert_string_equal(first->to, "2026-07-09");
    assert_false(first->late);
    assert_int_equal(first->fish, 25000);
    assert_true(first->fry);
    assert_int_equal(first->pace, 0);
    assert_int_equal(second->stage, STAGE_SECOND);
    assert_int_equal(second->fish, 700);
    assert_false(second->fry);
    assert_string_equal(second->from, "2026-07-14");
    assert_null(find(&list, "K4"));
    free(list.dues);
}

/* Late for as long as its time lasted, 17 days; then the next. */
static void test_late_culls(void **state)
{
    struct due_list list = make(*state, "2026-07-26");
    assert_true(find(&list, "K2")->late);
    free(list.dues);
    list = make(*state, "2026-07-27");
    assert_int_equal(find(&list, "K2")->stage, STAGE_SECOND);
    free(list.dues);
    list = make(*state, "2026-06-07");
    assert_null(find(&list, "K2"));
    free(list.dues);
}

/* Nobody said that the fish were put together, but they were culled together. */
static void test_mixed_lots(void **state)
{
    take_text(*state, import_rounds, "spawning,lot,stage,in,kept\nK2;K3,both,second,3000,900\n", 1,
              0, 0);
    struct due_list list = make(*state, "2026-08-10");
    const struct due *both = find(&list, "both");
    assert_int_equal(both->stage, STAGE_THIRD);
    assert_string_equal(both->spawnings, "K2;K3");
    assert_true(both->mixed);
    assert_int_equal(both->fish, 900);
    assert_null(find(&list, "K2"));
    assert_null(find(&list, "K3"));
    free(list.dues);
}

/* Each part of a lot that was split is due by itself, with its fish by the book; one that has none
 * any more is not. */
static void test_lots_that_were_split(void **state)
{
    take_text(*state, import_lots,
              "spawning,lot,date,event,number,into_lot,pond\n"
              "K3,,2026-07-10,transfer,250,west,\nK3,west,2026-07-11,dead,30,,\n"
              "K3,west,2026-07-12,move,,,North 3\nK3,,2026-07-13,transfer,,east,\n",
              4, 0, 0);
    struct due_list list = make(*state, "2026-07-14");
    const struct due *west = find(&list, "west");
    const struct due *east = find(&list, "east");
    assert_int_equal(west->stage, STAGE_SECOND);
    assert_int_equal(west->fish, 220);
    assert_string_equal(west->pond, "North 3");
    assert_string_equal(west->spawnings, "K3");
    assert_int_equal(east->fish, 450);
    assert_null(find(&list, "K3"));
    free(list.dues);
}

/* More fish left than the lot had: some number is wrong, and the lot is still to be culled. */
static void test_overdrawn_lots(void **state)
{
    take_text(*state, import_lots, "spawning,date,event,number\nK3,2026-07-11,lost,800\n", 1, 0, 0);
    struct due_list list = make(*state, "2026-07-14");
    assert_int_equal(find(&list, "K3")->fish, NOT_COUNTED);
    free(list.dues);
}

static void close_at(struct small_ledger *small, int64_t bowl_id, int number, int64_t judge,
                     int64_t at_ms)
{
    struct cached_verdict cached = {.verdict = VERDICT_REJECT};
    struct stroke stroke = {.judge = judge, .look = 1, .at_ms = at_ms, .entry_count = 1};
    struct err err;
    stroke.entries[0] = (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_REJECT};
    assert_ok(fish_begin(small->ledger, bowl_id, number, &stroke.fish, &err), &err);
    assert_ok(stroke_record(small->ledger, &stroke, &cached, NULL, &err), &err);
}

/* A fish every 36 s by one judge and every 18 s by another who gave no name: 100 and 200 an hour,
 * as many fish of each, and so 133 an hour in all. */
static void test_the_pace_is_the_own(void **state)
{
    struct small_ledger *small = *state;
    struct bowl bowl;
    struct err err;
    assert_ok(bowl_begin(small->ledger, small->round.id, 9, 0, "2026-07-18", &bowl, &err), &err);
    for (int i = 0; i < 10; i++) {
        close_at(small, bowl.id, 2 * i + 1, small->judge, INT64_C(1784000000000) + 36000 * i);
        close_at(small, bowl.id, 2 * i + 2, 0, INT64_C(1784000000000) + 18000 * i);
    }
    struct due_list list = make(small, "2026-07-09");
    assert_int_equal(find(&list, "K2")->pace, 133);
    assert_int_equal(find(&list, "K3")->pace, 0);
    free(list.dues);
}

static struct round begin_pick(struct small_ledger *small, int expected)
{
    struct round round;
    bool is_new;
    struct err err;
    assert_ok(
        round_begin_as(small->ledger, "K2", "", STAGE_FIRST, MANNER_PICK, &round, &is_new, &err),
        &err);
    round.expected = expected;
    assert_ok(round_save(small->ledger, &round, 0, &err), &err);
    return round;
}

static void tally(struct small_ledger *small, const struct round *round, enum tally_kind kind)
{
    const struct tally_mark mark = {.kind = kind};
    struct err err;
    small->now += 10000;
    assert_ok(tally_record(small->ledger, round->id, small->judge, &mark, NULL, &err), &err);
}

/* Two of five fish are through: the lot is still to be culled, and has all its fish. */
static void test_a_cull_at_work_is_still_due(void **state)
{
    struct small_ledger *small = *state;
    struct round round = begin_pick(small, 5);
    tally(small, &round, TALLY_KEEP);
    tally(small, &round, TALLY_REJECT);
    struct due_list list = make(small, "2026-07-09");
    assert_int_equal(find(&list, "K2")->stage, STAGE_FIRST);
    free(list.dues);
    for (int i = 0; i < 3; i++)
        tally(small, &round, TALLY_REJECT);
    list = make(small, "2026-07-09");
    assert_int_equal(find(&list, "K2")->stage, STAGE_SECOND);
    assert_int_equal(find(&list, "K2")->fish, 1);
    free(list.dues);
}

/* A key every 10 s, each a fish kept or left over: 360 an hour. */
static void test_tallied_fish_are_timed(void **state)
{
    struct small_ledger *small = *state;
    struct round round = begin_pick(small, 0);
    for (int i = 0; i < 10; i++)
        tally(small, &round, i % 2 == 0 ? TALLY_KEEP : TALLY_REJECT);
    struct due_list list = make(small, "2026-06-20");
    assert_int_equal(find(&list, "K5")->stage, STAGE_FIRST);
    assert_int_equal(find(&list, "K5")->pace, 360);
    free(list.dues);
}

/* Ten fish picked out of 3,000 in 90 s: all of them went through the hands. */
static void test_fish_left_over_are_timed(void **state)
{
    struct small_ledger *small = *state;
    struct round round = begin_pick(small, 3000);
    for (int i = 0; i < 10; i++)
        tally(small, &round, TALLY_KEEP);
    struct due_list list = make(small, "2026-06-20");
    assert_int_equal(find(&list, "K5")->pace, 120000);
    free(list.dues);
}

#define on_farm(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_farm(test_first_and_second_culls),
        on_farm(test_late_culls),
        on_farm(test_mixed_lots),
        on_farm(test_lots_that_were_split),
        on_farm(test_overdrawn_lots),
        on_farm(test_the_pace_is_the_own),
        on_farm(test_a_cull_at_work_is_still_due),
        on_farm(test_tallied_fish_are_timed),
        on_farm(test_fish_left_over_are_timed),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
