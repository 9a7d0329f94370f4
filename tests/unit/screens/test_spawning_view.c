#include "senbetsu/screens/spawning_view.h"
#include "support/views.h"

static struct round_line rounds[] = {
    {.stage = STAGE_SECOND,
     .tally = {400, 400, {0, 98, 40, 262}},
     .bowls = 20,
     .first_day = "2026-07-30",
     .last_day = "2026-08-01",
     .places = -1,
     .standard = "kikusui-second",
     .fate = FATE_PASSED_ON},
    {.stage = STAGE_HARVEST, .tally = {60, 18, {0, 9, 3, 6}}, .bowls = 1, .places = 20},
};

static struct spawning_view new_view(size_t round_count)
{
    struct spawning_view view = {
        .spawning = {2026, "K26-1", "2026-06-14", "Kikusui", "K7 × P2", rounds, round_count}};
    spawning_ready(&view);
    return view;
}

static void test_the_last_line_begins_a_round(void **state)
{
    (void)state;
    struct spawning_view view = new_view(2);
    assert_int_equal(spawning_front(&view), 0);
    list_to(&view.list, 2);
    assert_int_equal(spawning_front(&view), view.spawning.round_count);
    view = new_view(0);
    assert_int_equal(spawning_front(&view), 0);
}

static void test_rounds_are_drawn(void **state)
{
    (void)state;
    struct spawning_view view = new_view(2);
    list_to(&view.list, 1);
    assert_screens("spawning", spawning_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_last_line_begins_a_round),
        cmocka_unit_test(test_rounds_are_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
