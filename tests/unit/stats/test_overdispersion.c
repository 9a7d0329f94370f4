#include "senbetsu/stats/overdispersion.h"
#include "support/published.h"

static const char data_table[] = "tests/data/spread.csv";
static const char values_table[] = "tests/data/spread_values.csv";
enum { MOST = 100 };

/* Of an example the batches of one group, or of all where `group` is empty. */
static size_t load(const char *example, const char *group, struct cluster ret[MOST])
{
    struct csv csv;
    size_t count = 0;
    published_load(data_table, &csv);
    for (size_t i = 0; i < csv.row_count; i++) {
        const char *of = published_field(&csv, i, "group");
        if (strcmp(published_field(&csv, i, "example"), example) == 0 &&
            (*group == '\0' || strcmp(of, group) == 0))
            ret[count++] =
                (struct cluster){(int)strtol(of, NULL, 10), published_whole(&csv, i, "in"),
                                 published_whole(&csv, i, "kept")};
    }
    csv_done(&csv);
    return count;
}

static double quantity_of(const char *quantity, const struct cluster *batches, size_t count)
{
    if (strcmp(quantity, "pearson") == 0)
        return overdispersion_overall(batches, count).statistic;
    if (strcmp(quantity, "tarone") == 0)
        return overdispersion_tarone(batches, count).statistic;
    if (strcmp(quantity, "intraclass") == 0)
        return overdispersion_intraclass(batches, count);
    struct significance within = overdispersion_within(batches, count);
    if (strcmp(quantity, "dispersion_within") == 0)
        return within.statistic / within.df;
    assert_string_equal(quantity, "pearson_within");
    return within.statistic;
}

/* Plates and pots of seeds, groups of animals: none of the tables is of fish. */
static void agrees_with_the_tables(void **state)
{
    (void)state;
    struct csv csv;
    int published = 0;
    published_load(values_table, &csv);
    assert_int_equal(csv.row_count, 17);
    for (size_t i = 0; i < csv.row_count; i++) {
        struct cluster batches[MOST];
        const char *name = published_field(&csv, i, "example");
        const char *printed = published_field(&csv, i, "published");
        size_t count = load(name, published_field(&csv, i, "group"), batches);
        double value = quantity_of(published_field(&csv, i, "quantity"), batches, count);
        assert_printed_as(name, printed, value);
        assert_recomputed(name, published_field(&csv, i, "value"), value);
        published += *printed != '\0';
    }
    assert_int_equal(published, 3);
    csv_done(&csv);
}

static void every_row_names_its_source(void **state)
{
    (void)state;
    assert_sources_named(values_table);
}

static void counts_degrees_of_freedom(void **state)
{
    (void)state;
    struct cluster batches[MOST];
    assert_int_equal(overdispersion_overall(batches, load("seeds", "", batches)).df, 19);
    assert_int_equal(overdispersion_within(batches, load("seeds", "", batches)).df, 16);
    assert_int_equal(overdispersion_within(batches, load("orobanche", "", batches)).df, 17);
}

/* 50 and 30 of 100 each: 40 % in all, 2·10²/24 = 8.333…; S = 100·8.333…, so Z = 633.33…/√39600. */
static void two_spawnings_by_hand(void **state)
{
    (void)state;
    static const struct cluster two[] = {{0, 100, 50}, {0, 100, 30}};
    struct significance pearson = overdispersion_overall(two, 2);
    struct significance tarone = overdispersion_tarone(two, 2);
    assert_true(fabs(pearson.statistic - 200 / 24.0) < 1e-12 && pearson.df == 1);
    assert_true(fabs(pearson.p - 0.0038924) < 1e-7);
    assert_true(fabs(tarone.statistic - (20000 / 24.0 - 200) / sqrt(39600)) < 1e-12);
    assert_true(fabs(tarone.p - 0.00073) < 1e-5);
    double intraclass = (200 / 24.0 - 1) / (100 - 1);
    assert_true(fabs(overdispersion_intraclass(two, 2) - intraclass) < 1e-14);
    assert_true(fabs(overdispersion_beyond_chance(two, 2) - sqrt(intraclass * 0.24)) < 1e-14);
}

static void chance_is_taken_away_to_nothing(void **state)
{
    (void)state;
    static const struct cluster even[] = {{0, 100, 40}, {0, 200, 80}, {0, 50, 20}};
    assert_true(overdispersion_overall(even, 3).p > 0.999999);
    assert_true(overdispersion_intraclass(even, 3) < 0);
    assert_true(overdispersion_beyond_chance(even, 3) == 0);
    assert_true(overdispersion_tarone(even, 3).statistic < 0);
}

static void groups_are_looked_at_by_themselves(void **state)
{
    (void)state;
    static const struct cluster seasons[] = {
        {2024, 100, 50}, {2024, 100, 30}, {2025, 100, 90}, {2026, 70, 70}, {2026, 90, 90}};
    struct significance within = overdispersion_within(seasons, 5);
    assert_true(within.known && within.df == 1);
    assert_true(fabs(within.statistic - overdispersion_overall(seasons, 2).statistic) < 1e-12);
    assert_false(overdispersion_within(seasons + 2, 3).known);
    assert_true(overdispersion_overall(seasons, 5).df == 4);
}

static void what_says_nothing_is_not_known(void **state)
{
    (void)state;
    static const struct cluster none[] = {{0, 100, 0}, {0, 80, 0}};
    static const struct cluster single[] = {{0, 1, 0}, {0, 1, 1}};
    for (size_t count = 0; count <= 2; count++) {
        assert_false(overdispersion_overall(none, count).known ||
                     overdispersion_within(none, count).known);
        assert_false(overdispersion_tarone(none, count).known);
        assert_true(overdispersion_beyond_chance(none, count) == 0);
    }
    assert_false(overdispersion_tarone(single, 2).known);
    assert_true(overdispersion_beyond_chance(single, 2) == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_the_tables),
        cmocka_unit_test(every_row_names_its_source),
        cmocka_unit_test(counts_degrees_of_freedom),
        cmocka_unit_test(two_spawnings_by_hand),
        cmocka_unit_test(chance_is_taken_away_to_nothing),
        cmocka_unit_test(groups_are_looked_at_by_themselves),
        cmocka_unit_test(what_says_nothing_is_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
