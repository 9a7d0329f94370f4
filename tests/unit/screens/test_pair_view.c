#include "senbetsu/screens/pair_view.h"
#include "support/views.h"

static void test_spawnings_stand_under_their_seasons(void **state)
{
    (void)state;
    struct pair_spawning spawnings[] = {
        {2026, "K26-1", "60000", "12000", "20.0", "16.4 to 24.4", {200000, -1, 164000, 244000}},
        {2026, "K26-4", "9000", "9100", "101.1", "", {1000000, -1, -1, -1}},
        {2025, "a-long-code-of-a-spawning", "", "", "", "", {-1, -1, -1, -1}},
    };
    struct pair_view view = {.title = "D7 × P2",
                             .beside = "first",
                             .spawnings = spawnings,
                             .spawning_count = 3,
                             .most = WHOLE_SHARE};
    pair_ready(&view);
    list_to(&view.list, 1);
    assert_screens("pair", pair_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_spawnings_stand_under_their_seasons),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
