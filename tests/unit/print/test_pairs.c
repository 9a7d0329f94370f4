#include "senbetsu/print/pairs.h"
#include "support/source.h"
#include "support/test.h"

#include <math.h>

static const struct parent sold = {.code = "KD3", .state = BROOD_SOLD};

/* Two varieties; a pair that was set twice, one of a group whose dam was sold, one that was set and
 * not culled, one with recovered fish, and crosses that were not tried. */
static struct pair_row rows[] = {
    {.dam = "KD2",
     .sires = "KS2",
     .siring = "single",
     .variety = "Kikusui",
     .seasons = 2,
     .spawnings = 2,
     .of_dam = 4,
     .of_sires = 3,
     .cull.in = 3000,
     .cull.kept = 900,
     .has_rate = true,
     .rate = 0.3,
     .has_interval = true,
     .interval = {0.2838688, 0.3166291},
     .has_prediction = true,
     .prediction = {0.285, {0.231, 0.342}, {0.192, 0.401}, 0.84},
     .has_inbreeding = true,
     .inbreeding = 0.125,
     .available = true,
     .later = 0.5},
    {.dam = "KD3",
     .sires = "KS1;KS2",
     .siring = "pooled;group",
     .variety = "Kikusui",
     .seasons = 1,
     .spawnings = 2,
     .of_dam = 2,
     .of_sires = 3,
     .cull.in = 100,
     .cull.kept = 36,
     .has_rate = true,
     .rate = 0.36,
     .has_interval = true,
     .interval = {0.2727, 0.4576},
     .has_prediction = true,
     .prediction = {0.262, {0.18, 0.355}, {0.151, 0.41}, 0},
     .out = &sold,
     .later = 0.5},
    {.dam = "An old dam with a long name",
     .sires = "KS1",
     .siring = "single",
     .variety = "Kikusui",
     .has_prediction = true,
     .of_sires = 1,
     .prediction = {0.24, {0.15, 0.355}, {0.14, 0.41}, 0.4},
     .has_inbreeding = true,
     .later = 0.5},
    {.dam = "KD2",
     .sires = "KS1",
     .siring = "",
     .variety = "Kikusui",
     .untried = true,
     .of_dam = 4,
     .of_sires = 1,
     .has_prediction = true,
     .prediction = {0.27, {0.17, 0.45}, {0.14, 0.51}, 0.7},
     .has_inbreeding = true,
     .inbreeding = 0.0625,
     .later = 0.5},
    {.dam = "RD1",
     .sires = "RS1",
     .siring = "single",
     .variety = "Kohaku",
     .seasons = 1,
     .spawnings = 1,
     .of_dam = 1,
     .of_sires = 1,
     .cull.in = 1000,
     .cull.kept = 1100,
     .has_rate = true,
     .rate = 1.1,
     .recovered = true,
     .has_prediction = true,
     .prediction = {0.0020, {0.00075, 0.0076}, {0.0005, 0.009}, 1},
     .later = 1},
};

enum { ROWS = sizeof rows / sizeof *rows };

static const struct pairs_table whole = {
    .first = STAGE_FIRST,
    .last = STAGE_THIRD,
    .variety = "",
    .rows = rows,
    .count = ROWS,
    .notes = {.spawnings = 5, .estimated = 2, .largest_cv = 0.06, .recovered = "R25-1"},
    .no_model = "",
    .fry = 20000,
};

static void assert_printed(const struct pairs_table *table, bool ascii, const char *path)
{
    struct page_setup setup = page_default();
    struct text out;
    setup.ascii = ascii;
    text_init(&out);
    pairs_print(table, setup, &out);
    assert_as_in_source(path, out.data);
    text_done(&out);
}

static void prints_pairs_with_their_whiskers(void **state)
{
    (void)state;
    assert_printed(&whole, false, "tests/data/print/pairs.txt");
    assert_printed(&whole, true, "tests/data/print/pairs-ascii.txt");
}

static void prints_what_was_counted_where_nothing_is_expected(void **state)
{
    (void)state;
    struct pair_row bare[2] = {rows[0], rows[3]};
    for (int i = 0; i < 2; i++)
        bare[i].has_prediction = false;
    struct pairs_table table = {.first = STAGE_HARVEST,
                                .last = STAGE_HARVEST,
                                .variety = "Kikusui",
                                .rows = bare,
                                .count = 2,
                                .notes = {.recovered = ""},
                                .no_model = "Parents cannot be compared."};
    assert_printed(&table, false, "tests/data/print/pairs-bare.txt");
    table.count = 0;
    assert_printed(&table, false, "tests/data/print/pairs-none.txt");
}

/* The untried crosses are many; the table has the first of them and counts the others. */
static void lists_the_best_untried_crosses_only(void **state)
{
    (void)state;
    struct pair_row many[UNTRIED_SHOWN + 3];
    struct pairs_table table = whole;
    struct text out;
    for (int i = 0; i < UNTRIED_SHOWN + 3; i++)
        many[i] = rows[3];
    table.rows = many;
    table.count = UNTRIED_SHOWN + 3;
    text_init(&out);
    pairs_print(&table, page_default(), &out);
    assert_non_null(strstr(out.data, "3 more untried crosses"));
    text_done(&out);
}

static void writes_csv(void **state)
{
    (void)state;
    struct text out;
    text_init(&out);
    pairs_csv(&whole, &out);
    assert_as_in_source("tests/data/print/pairs.csv", out.data);
    text_done(&out);
}

static void the_scale_holds_what_was_set(void **state)
{
    (void)state;
    assert_true(fabs(pairs_scale(rows, 4) - 0.4) < 1e-9);
    assert_true(fabs(pairs_scale(rows + 3, 1) - 0.5) < 1e-9);
    assert_true(fabs(pairs_scale(rows + 4, 1) - 0.008) < 1e-9);
    assert_int_equal(pairs_cell(0, 0.4, 21), 0);
    assert_int_equal(pairs_cell(0.2, 0.4, 21), 10);
    assert_int_equal(pairs_cell(0.4, 0.4, 21), 20);
    assert_int_equal(pairs_cell(1.1, 0.4, 21), 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_pairs_with_their_whiskers),
        cmocka_unit_test(prints_what_was_counted_where_nothing_is_expected),
        cmocka_unit_test(lists_the_best_untried_crosses_only),
        cmocka_unit_test(writes_csv),
        cmocka_unit_test(the_scale_holds_what_was_set),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
