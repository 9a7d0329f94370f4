#include "senbetsu/screens/round_view.h"
#include "support/views.h"

static struct bowl_line bowls[] = {
    {1, "2026-11-05", {20, 20, {0, 6, 4, 10}}},
    {2, "2026-11-05", {20, 8, {0, 3, 1, 4}}},
    {3, "2026-11-05", {0, 0, {0, 0, 0, 0}}},
};

static struct round_view new_view(void)
{
    struct round_view view = {.spawning = "K26-1",
                              .judge = "Aoki",
                              .round = {.stage = STAGE_HARVEST,
                                        .tally = {60, 28, {0, 9, 5, 14}},
                                        .bowls = 3,
                                        .places = 20,
                                        .standard = "kikusui-harvest",
                                        .fate = FATE_POND_GRADE,
                                        .first_look = "14 of 20 good, 70.0 % (48.1 to 85.5 %)"},
                              .bowls = bowls,
                              .bowl_count = 3};
    round_ready(&view);
    return view;
}

static void test_what_is_in_front(void **state)
{
    (void)state;
    struct round_view view = new_view();
    size_t bowl = 9;
    list_to(&view.list, 2);
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_BOWL);
    assert_int_equal(bowl, 2);
    list_to(&view.list, 3);
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_NEXT);
    list_to(&view.list, 4);
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_SECOND_LOOK);
    list_to(&view.list, 5);
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_FIRST_LOOK);
    list_to(&view.list, 6);
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_SAMPLES);
}

static void test_without_held_fish_there_is_no_second_look(void **state)
{
    (void)state;
    struct round_view view = new_view();
    view.round.tally.verdicts[VERDICT_HOLD] = 0;
    round_ready(&view);
    assert_int_equal(view.list.count, 6);
    list_to(&view.list, 4);
    size_t bowl;
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_FIRST_LOOK);
}

static void test_the_first_open_bowl_comes_up(void **state)
{
    (void)state;
    struct round_view view = new_view();
    round_to_open(&view);
    assert_int_equal(view.list.current, 1);
    view.bowl_count = 1;
    round_ready(&view);
    round_to_open(&view);
    size_t bowl;
    assert_int_equal(round_front(&view, &bowl), ROUND_ITEM_NEXT);
}

static void assert_in_front(const struct round_view *view, enum round_item item, size_t bowl)
{
    size_t index = 9;
    assert_int_equal(round_front(view, &index), item);
    if (item == ROUND_ITEM_BOWL)
        assert_int_equal(index, bowl);
}

/* A line keeps to the front when another sorter begins a bowl. */
static void test_a_line_is_found_again(void **state)
{
    (void)state;
    struct round_view view = new_view();
    round_to(&view, ROUND_ITEM_BOWL, 2);
    assert_in_front(&view, ROUND_ITEM_BOWL, 1);
    round_to(&view, ROUND_ITEM_NEXT, 0);
    assert_in_front(&view, ROUND_ITEM_NEXT, 0);
    round_to(&view, ROUND_ITEM_SECOND_LOOK, 0);
    assert_in_front(&view, ROUND_ITEM_SECOND_LOOK, 0);
    round_to(&view, ROUND_ITEM_FIRST_LOOK, 0);
    assert_in_front(&view, ROUND_ITEM_FIRST_LOOK, 0);
    round_to(&view, ROUND_ITEM_SAMPLES, 0);
    assert_in_front(&view, ROUND_ITEM_SAMPLES, 0);
    round_to(&view, ROUND_ITEM_BOWL, 77);
    assert_in_front(&view, ROUND_ITEM_NEXT, 0);
}

static void test_bowls_are_drawn(void **state)
{
    (void)state;
    struct round_view view = new_view();
    round_to_open(&view);
    assert_screens("round", round_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_is_in_front),
        cmocka_unit_test(test_without_held_fish_there_is_no_second_look),
        cmocka_unit_test(test_the_first_open_bowl_comes_up),
        cmocka_unit_test(test_a_line_is_found_again),
        cmocka_unit_test(test_bowls_are_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
