#include "senbetsu/screens/rates_view.h"
#include "support/views.h"

static const struct rates_step kept_steps[] = {
    {.name = "eggs, hatched",
     .alive = "80.0",
     .in = 120000,
     .kept = 96000,
     .low = 800,
     .high = 800},
    {.name = "first",
     .alive = "62.5",
     .in = 60000,
     .kept = 12000,
     .rate = "20.0",
     .interval = "16.4 to 24.4",
     .low = 164,
     .high = 244},
    {.name = "second",
     .in = 11000,
     .kept = 5100,
     .rate = "46.4",
     .interval = "45.4 to 47.3",
     .low = 454,
     .high = 473,
     .warnings = {"outside the usual 15 to 40 %: check the standard or the count "
                  "(red on white: worked out from published accounts)"},
     .warning_count = 1},
    {.name = "third",
     .alive = "101.2",
     .in = 1400,
     .kept = 1450,
     .rate = "103.6",
     .interval = "-",
     .low = 1000,
     .high = 1000,
     .warnings = {"more fish were kept than went in: some were found again"},
     .warning_count = 1},
    {.name = "first-third",
     .in = 60000,
     .kept = 1450,
     .rate = "0.0321",
     .interval = "0.0281 to 0.0411",
     .low = 0,
     .high = 0},
};

static const struct rates_step unknown_steps[] = {
    {.name = "eggs, hatched", .in = NOT_KNOWN, .kept = 25000, .low = NOT_KNOWN, .high = NOT_KNOWN},
    {.name = "first", .in = 0, .kept = 0, .low = NOT_KNOWN, .high = NOT_KNOWN},
};

static const struct rates_item items[] = {
    {"K26-1, Kohaku, 2026-05-20", "D7 × P2", kept_steps, 5},
    {"K26-2, Kohaku, 2026-06-02", "D8 × P2;P3 (group)", unknown_steps, 2},
    {"K26-3", "", NULL, 0},
    {"All together", "mixed lots included", kept_steps + 1, 4},
};

static struct rates_view new_view(int before, int after)
{
    struct rates_view view = {
        .season = 2026, .before = before, .after = after, .items = items, .item_count = 4};
    rates_ready(&view);
    return view;
}

static void test_a_season_is_drawn(void **state)
{
    (void)state;
    struct rates_view view = new_view(2025, 2027);
    view.message = "This is no spawning; go to one first.";
    assert_screens("rates", rates_draw, &view);
}

static void test_the_season_as_a_whole_stands_last(void **state)
{
    (void)state;
    struct rates_view view = new_view(2025, 0);
    list_to(&view.list, 3);
    assert_screens("rates_last", rates_draw, &view);
}

static struct text drawn(const struct rates_step *step)
{
    struct rates_item item = {"K26-1", "", step, 1};
    struct rates_view view = {.season = 2026, .items = &item, .item_count = 1};
    struct grid grid;
    struct text text;
    rates_ready(&view);
    grid_init(&grid, GRID_MIN_ROWS, GRID_MIN_COLUMNS);
    rates_draw(&grid, &view);
    text_init(&text);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

/* Fourteen cells; one counts where its middle is reached. */
static void test_bars_are_filled_by_halves_of_a_cell(void **state)
{
    (void)state;
    static const struct {
        int low, high;
        const char *bar;
    } bars[] = {
        {0, 0, " ··············"},     {35, 35, " █·············"},
        {34, 107, " ▒▒············"},  {500, 500, " ███████·······"},
        {963, 964, " █████████████▒"}, {1000, 1000, " ██████████████"},
    };
    for (size_t i = 0; i < sizeof bars / sizeof bars[0]; i++) {
        struct rates_step step = {.name = "first", .low = bars[i].low, .high = bars[i].high};
        struct text text = drawn(&step);
        if (strstr(text.data, bars[i].bar) == NULL)
            fail_msg("%d to %d is not %s:\n%s", bars[i].low, bars[i].high, bars[i].bar, text.data);
        text_done(&text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_season_is_drawn),
        cmocka_unit_test(test_the_season_as_a_whole_stands_last),
        cmocka_unit_test(test_bars_are_filled_by_halves_of_a_cell),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
