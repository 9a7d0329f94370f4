#include "senbetsu/screens/home_view.h"
#include "support/views.h"

static struct round_line rounds[] = {
    {.stage = STAGE_SECOND, .tally = {400, 400, {0, 98, 40, 262}}, .places = -1},
    {.stage = STAGE_HARVEST, .lot = "north", .tally = {60, 18, {0, 9, 3, 6}}, .places = 20},
};

static struct home_spawning spawnings[] = {
    {2026, "K26-1", "2026-06-14", "Kikusui", "K7 × P2; P3 (pooled)", rounds, 2},
    {2026, "S26-2", "2026-06-20", "Sanke", "", NULL, 0},
    {2025, "黒25", "", "昭和三色", "B1 × ?", rounds, 1},
};

static struct home_view new_view(void)
{
    struct home_view view = {.ledger = "ledger.db",
                             .judge = "Aoki",
                             .go_on = "K26-1 harvest, bowl 3, fish 14",
                             .spawnings = spawnings,
                             .spawning_count = 3,
                             .message = ""};
    home_ready(&view);
    return view;
}

static void test_what_is_in_front(void **state)
{
    (void)state;
    struct home_view view = new_view();
    size_t index = 9;
    assert_int_equal(home_front(&view, &index), HOME_ITEM_GO_ON);
    list_to(&view.list, 2);
    assert_int_equal(home_front(&view, &index), HOME_ITEM_SPAWNING);
    assert_int_equal(index, 1);
    list_to(&view.list, 99);
    assert_int_equal(home_front(&view, &index), HOME_ITEM_ADD);
    view.go_on[0] = '\0';
    home_ready(&view);
    list_to(&view.list, 0);
    assert_int_equal(home_front(&view, &index), HOME_ITEM_SPAWNING);
    assert_int_equal(index, 0);
}

static void test_seasons_are_drawn(void **state)
{
    (void)state;
    struct home_view view = new_view();
    view.message = "Spawning S26-2 is in the ledger.";
    assert_screens("home", home_draw, &view);
}

static void test_a_new_ledger_says_the_first_steps(void **state)
{
    (void)state;
    struct home_view view = {.ledger = "ledger.db", .judge = ""};
    home_ready(&view);
    assert_int_equal(view.list.count, 1);
    assert_screens("home_empty", home_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_what_is_in_front),
        cmocka_unit_test(test_seasons_are_drawn),
        cmocka_unit_test(test_a_new_ledger_says_the_first_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
