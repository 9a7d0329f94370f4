#include "senbetsu/screens/pairs_view.h"
#include "support/views.h"

static const struct pairs_line lines[] = {
    {.texts = {"D7 × P2", "3 in 2", "25.0", "20.3", "61", "6.25"},
     .variety = "Kohaku",
     .most = 300000,
     .whisker = {250000, 203000, 151000, 270000},
     .about = "D7 × P2: 3 spawnings in 2 seasons; drawn towards the average 20.3 % (90 %: 15.1 to "
              "27.0); next spawning 8.0 to 39.9."},
    {.texts = {"D7 × P9", "4+0", "untried", "18.1", "44", "0"},
     .variety = "Kohaku",
     .most = 300000,
     .whisker = {NO_SHARE, 181000, 60000, 300001},
     .untried = true,
     .chosen = true,
     .about = "D7 × P9: untried."},
    {.texts = {"D8 × P2;P3;P4;P5;P6", "1 in 1", "103.1", "31.0", "12", ""},
     .variety = "",
     .most = 400000,
     .whisker = {WHOLE_SHARE, 310000, 110000, 390000},
     .about = "D8 × P2;P3;P4;P5;P6: 1 spawning in 1 season."},
    {.texts = {"D9 × P1", "1+0", "", "", "", "25"},
     .variety = "",
     .most = 400000,
     .whisker = {NO_SHARE, NO_SHARE, NO_SHARE, NO_SHARE},
     .about = "D9 × P1: set but not culled yet."},
};

static struct pairs_view new_view(void)
{
    struct pairs_view view = {.stages = "first to harvest",
                              .lines = lines,
                              .line_count = 4,
                              .sorted = PAIRS_EXPECTED,
                              .trouble = ""};
    pairs_ready(&view);
    return view;
}

static void test_pairs_and_crosses_share_a_scale(void **state)
{
    (void)state;
    struct pairs_view view = new_view();
    assert_screens("pairs", pairs_draw, &view);
}

static void test_trouble_stands_over_the_rates(void **state)
{
    (void)state;
    struct pairs_view view = new_view();
    view.line_count = 3;
    view.untried_hidden = 12;
    view.sorted = PAIRS_NAME;
    view.trouble = "There are too few spawnings that were counted before and after their culls to "
                   "tell what pairs are worth.";
    view.message = "z does nothing here; ? shows the keys.";
    pairs_ready(&view);
    assert_screens("pairs_trouble", pairs_draw, &view);
}

static void test_there_may_be_no_pair(void **state)
{
    (void)state;
    struct pairs_view view = new_view();
    view.line_count = 0;
    pairs_ready(&view);
    assert_screens("pairs_none", pairs_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_pairs_and_crosses_share_a_scale),
        cmocka_unit_test(test_trouble_stands_over_the_rates),
        cmocka_unit_test(test_there_may_be_no_pair),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
