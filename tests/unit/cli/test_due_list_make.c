#include "import_bench.h"
#include "senbetsu/cli/due_list_make.h"

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

#define on_farm(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_farm(test_first_and_second_culls),
        on_farm(test_late_culls),
        on_farm(test_mixed_lots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
