#include "import_bench.h"
#include "senbetsu/cli/due_list_make.h"
#include "senbetsu/store/fish.h"

#include <stdlib.h>

/* Hatched on 25 May, K2 is due for its first cull from 22 June to 9 July. */
static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_spawnings,
              "spawning,season,date,variety,hatched\nK2,2026,2026-05-20,Kohaku,25000\n"
              "K3,2026,2026-05-20,Kohaku,9000\nK4,2026,,Kohaku,100\n",
              3, 0, 0);
    take_text(*state, import_rounds, "spawning,stage,in,kept\nK3,first,8000,700\n", 1, 0, 0);
    return result;
}

static const struct due *find(const struct due_list *list, const char *spawning)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->dues[i].spawning, spawning) == 0)
            return &list->dues[i];
    return NULL;
}

static struct due_list make(struct small_ledger *small, const char *day)
{
    struct due_list list;
    struct err err;
    assert_ok(due_list_make(small->ledger, day, 14, &list, &err), &err);
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
    assert_int_equal(first->pace, 0);
    assert_int_equal(second->stage, STAGE_SECOND);
    assert_int_equal(second->fish, 700);
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

/* In a mixed lot nobody knows whose the fish are. */
static void test_mixed_lots(void **state)
{
    take_text(*state, import_rounds, "spawning,lot,stage,in,kept\nK2;K3,both,second,3000,900\n", 1,
              0, 0);
    struct due_list list = make(*state, "2026-08-10");
    assert_int_equal(find(&list, "K2")->stage, STAGE_THIRD);
    assert_int_equal(find(&list, "K2")->fish, NOT_COUNTED);
    free(list.dues);
}

static void close_at(struct small_ledger *small, int64_t bowl_id, int number, int64_t judge,
                     int64_t at_ms)
{
    struct standing standing = {.verdict = VERDICT_REJECT};
    struct stroke stroke = {.judge = judge, .look = 1, .at_ms = at_ms, .entry_count = 1};
    struct err err;
    stroke.entries[0] = (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_REJECT};
    assert_ok(fish_begin(small->ledger, bowl_id, number, &stroke.fish, &err), &err);
    assert_ok(stroke_record(small->ledger, &stroke, &standing, NULL, &err), &err);
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

#define on_farm(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_farm(test_first_and_second_culls),
        on_farm(test_late_culls),
        on_farm(test_mixed_lots),
        on_farm(test_the_pace_is_the_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
