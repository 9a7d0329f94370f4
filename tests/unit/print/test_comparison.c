#include "senbetsu/print/comparison.h"
#include "support/source.h"

/* Two seasons in which the pairs differ as in centres 1 and 2 of Beitler and Landis 1985, and a
 * third in which fish were found again. */
static struct compare_row rows[] = {
    {.season = 2024,
     .fish = {36, 11, 37, 10},
     .difference = {true, true, 11.0 / 36 - 10.0 / 37, {-0.1689, 0.2361}},
     .odds_ratio = {true, true, 1.188, {0.4279, 3.2983}},
     .equal = {.known = true, .p = 0.7983}},
    {.season = 2025,
     .fish = {2000, 0, 3200, 9},
     .difference = {true, true, -9.0 / 3200, {-0.00534, -0.00031}},
     .odds_ratio = {.known = true},
     .equal = {.known = true, .p = 0.0133}},
    {.season = 2026,
     .fish = {50, 20, 40, 41},
     .recovered = true,
     .difference = {.known = true, .value = 0.4 - 41.0 / 40}},
};

static struct compare_left_out left_out[] = {
    {.spawning = "K23-1", .pair = 0, .season = 2023, .alone = true},
    {.spawning = "K25-4", .pair = 1, .season = 2025},
};

static struct comparison sample(void)
{
    return (struct comparison){
        .pairs = {"KD1+KS1", "KD2+KS1;KS2"},
        .varieties = {"Kikusui", "Kikusui"},
        .has_stages = true,
        .first = STAGE_FIRST,
        .last = STAGE_HARVEST,
        .rows = rows,
        .count = 3,
        .all = {.fish = {2036, 11, 3237, 19},
                .difference = {true, true, 0.0283, {-0.0151, 0.0717}},
                .odds_ratio = {true, true, 1.6, {0.6, 4.25}},
                .equal = {.known = true, .statistic = 3.9, .df = 1, .p = 0.0483},
                .alike = {.known = true, .statistic = 9.1, .df = 1, .p = 0.00255}},
        .overdispersions = {{.spawnings = 4,
                             .lowest = 0.201,
                             .highest = 0.362,
                             .overall = {.known = true, .statistic = 42.6, .df = 3, .p = 3e-9},
                             .tarone = {.known = true, .statistic = 14.49, .p = 1e-20},
                             .within = {.known = true, .statistic = 0.7, .df = 1, .p = 0.403},
                             .beyond_chance = 0.051},
                            {.spawnings = 2,
                             .lowest = 0.25,
                             .highest = 0.27,
                             .overall = {.known = true, .statistic = 0.9, .df = 1, .p = 0.343},
                             .tarone = {.known = true, .statistic = -0.4, .p = 0.655}}},
        .left_out = left_out,
        .left_out_count = 2,
        .estimated = true,
    };
}

static void assert_printed(const struct comparison *comparison, bool ascii, const char *file)
{
    struct page_setup setup = page_default();
    struct text out;
    text_init(&out);
    setup.ascii = ascii;
    compare_print(comparison, setup, &out);
    assert_as_in_source(file, out.data);
    text_done(&out);
}

static void prints_what_was_found(void **state)
{
    (void)state;
    struct comparison comparison = sample();
    assert_printed(&comparison, false, "tests/data/print/compare.txt");
    assert_printed(&comparison, true, "tests/data/print/compare-ascii.txt");
}

/* One season of one stage, in which nothing stands out. */
static void prints_one_season(void **state)
{
    (void)state;
    struct comparison comparison = sample();
    comparison.last = comparison.first = STAGE_THIRD;
    comparison.count = 1;
    comparison.all = rows[0];
    comparison.all.season = 0;
    comparison.overdispersions[0] =
        (struct pair_overdispersion){.spawnings = 1, .lowest = 0.3, .highest = 0.3};
    comparison.left_out_count = 0;
    comparison.estimated = false;
    assert_printed(&comparison, false, "tests/data/print/compare-one.txt");
}

static void says_so_where_nothing_compares(void **state)
{
    (void)state;
    struct comparison comparison = {.pairs = {"KD1+KS1", "RD2+RS3"},
                                    .varieties = {"Kikusui", "Kohaku"},
                                    .left_out = left_out,
                                    .left_out_count = 2};
    assert_printed(&comparison, false, "tests/data/print/compare-none.txt");
}

static void writes_csv(void **state)
{
    (void)state;
    struct comparison comparison = sample();
    struct text out;
    text_init(&out);
    compare_csv(&comparison, &out);
    assert_string_equal(
        out.data,
        "season,in_a,kept_a,in_b,kept_b,difference,low,high,odds_ratio,or_low,or_high,p_equal,"
        "p_seasons\n"
        "2024,36,11,37,10,0.03528528529,-0.1689,0.2361,1.188,0.4279,3.2983,0.7983,\n"
        "2025,2000,0,3200,9,-0.0028125,-0.00534,-0.00031,0,,,0.0133,\n"
        "2026,50,20,40,41,-0.625,,,,,,,\n"
        "all,2036,11,3237,19,0.0283,-0.0151,0.0717,1.6,0.6,4.25,0.0483,0.00255\n");
    text_clear(&out);
    compare_csv(&(struct comparison){.count = 0}, &out);
    assert_string_equal(strchr(out.data, '\n') + 1, "all,0,0,0,0,,,,,,,,\n");
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_what_was_found),
        cmocka_unit_test(prints_one_season),
        cmocka_unit_test(says_so_where_nothing_compares),
        cmocka_unit_test(writes_csv),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
