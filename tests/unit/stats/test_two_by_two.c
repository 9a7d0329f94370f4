#include "senbetsu/stats/two_by_two.h"
#include "support/published.h"
#include "support/test.h"

#include <math.h>

/* With two degrees of freedom the tail is exp(−x/2); the 5 % points of one and two are those of
 * every printed table. */
static void tails_of_the_chi_squared_distribution(void **state)
{
    (void)state;
    assert_true(fabs(significance_chi_squared(7, 2).p - exp(-3.5)) < 1e-15);
    assert_true(fabs(significance_chi_squared(3.841459, 1).p - 0.05) < 1e-7);
    assert_true(fabs(significance_chi_squared(5.991465, 2).p - 0.05) < 1e-7);
}

static void keeps_what_it_was_given(void **state)
{
    (void)state;
    struct significance found = significance_chi_squared(0, 3);
    assert_true(found.known && found.df == 3);
    assert_true(found.statistic == 0 && found.p == 1);
}

static const char newcombe_table[] = "tests/data/newcombe.csv";
static const char fisher_table[] = "tests/data/fisher.csv";

static void newcombe_agrees_with_his_table(void **state)
{
    (void)state;
    struct csv csv;
    published_load(newcombe_table, &csv);
    assert_int_equal(csv.row_count, 8);
    for (size_t i = 0; i < csv.row_count; i++) {
        struct two_groups groups = {
            published_whole(&csv, i, "in_a"), published_whole(&csv, i, "kept_a"),
            published_whole(&csv, i, "in_b"), published_whole(&csv, i, "kept_b")};
        const char *name = published_field(&csv, i, "case");
        double confidence = strtod(published_field(&csv, i, "confidence"), NULL);
        struct interval interval = newcombe_interval(&groups, confidence);
        assert_printed_as(name, published_field(&csv, i, "published_low"), interval.low);
        assert_printed_as(name, published_field(&csv, i, "published_high"), interval.high);
        assert_recomputed(name, published_field(&csv, i, "low"), interval.low);
        assert_recomputed(name, published_field(&csv, i, "high"), interval.high);
    }
    csv_done(&csv);
}

static struct two_groups table(int64_t kept_a, int64_t culled_a, int64_t kept_b, int64_t culled_b)
{
    return (struct two_groups){kept_a + culled_a, kept_a, kept_b + culled_b, kept_b};
}

static void fisher_agrees_with_the_table(void **state)
{
    (void)state;
    struct csv csv;
    published_load(fisher_table, &csv);
    assert_int_equal(csv.row_count, 12);
    for (size_t i = 0; i < csv.row_count; i++) {
        struct two_groups groups =
            table(published_whole(&csv, i, "kept_a"), published_whole(&csv, i, "culled_a"),
                  published_whole(&csv, i, "kept_b"), published_whole(&csv, i, "culled_b"));
        const char *name = published_field(&csv, i, "case");
        assert_printed_as(name, published_field(&csv, i, "published"), fisher_p(&groups));
        assert_recomputed(name, published_field(&csv, i, "p"), fisher_p(&groups));
    }
    csv_done(&csv);
}

static int64_t choose(int64_t n, int64_t k)
{
    int64_t ways = k < 0 || k > n ? 0 : 1;
    for (int64_t i = 1; i <= k && ways > 0; i++)
        ways = ways * (n - k + i) / i;
    return ways;
}

/* In whole numbers, in which a tie is a tie. */
static double fisher_counted(const struct two_groups *groups)
{
    int64_t kept = groups->kept_a + groups->kept_b;
    int64_t ours = choose(groups->in_a, groups->kept_a) * choose(groups->in_b, groups->kept_b);
    int64_t rare = 0;
    for (int64_t k = 0; k <= kept; k++) {
        int64_t ways = choose(groups->in_a, k) * choose(groups->in_b, kept - k);
        rare += ways <= ours ? ways : 0;
    }
    return (double)rare / (double)choose(groups->in_a + groups->in_b, kept);
}

static void fisher_is_right_for_all_small_tables(void **state)
{
    (void)state;
    for (int64_t in_a = 1; in_a <= 13; in_a++)
        for (int64_t in_b = 1; in_b <= 13; in_b++)
            for (int64_t kept_a = 0; kept_a <= in_a; kept_a++)
                for (int64_t kept_b = 0; kept_b <= in_b; kept_b++) {
                    struct two_groups groups = {in_a, kept_a, in_b, kept_b};
                    assert_true(fabs(fisher_p(&groups) - fisher_counted(&groups)) < 1e-13);
                }
}

/* With tens of thousands of fish the exact test comes close to the chi-squared test without
 * continuity correction: here 4.4444…, p 0.0350 by the normal distribution. */
static void fisher_serves_whole_spawnings(void **state)
{
    (void)state;
    struct two_groups groups = {100000, 50500, 80000, 40000};
    assert_true(fabs(fisher_p(&groups) - 0.035) < 0.001);
    struct two_groups apart = {100000000, 30000000, 100000000, 20000000};
    assert_true(fisher_p(&apart) == 0);
    struct two_groups alike = {100000000, 30000000, 100000000, 30000000};
    assert_true(fabs(fisher_p(&alike) - 1) < 1e-9);
}

static void the_other_way_round_changes_the_sign(void **state)
{
    (void)state;
    struct two_groups groups = {70, 56, 80, 48};
    struct two_groups other = {80, 48, 70, 56};
    struct interval one = newcombe_interval(&groups, 0.9);
    struct interval two = newcombe_interval(&other, 0.9);
    assert_true(fabs(share_difference(&groups) - 0.2) < 1e-15);
    assert_true(share_difference(&groups) == -share_difference(&other));
    assert_true(one.low == -two.high && one.high == -two.low);
    assert_true(fabs(fisher_p(&groups) - fisher_p(&other)) < 1e-14);
}

static void knows_what_can_be_compared(void **state)
{
    (void)state;
    assert_true(two_groups_valid(&(struct two_groups){5, 5, 7, 0}));
    assert_false(two_groups_valid(&(struct two_groups){0, 0, 7, 0}));
    assert_false(two_groups_valid(&(struct two_groups){5, 5, 0, 0}));
    assert_false(two_groups_valid(&(struct two_groups){5, 6, 7, 0}));
    assert_false(two_groups_valid(&(struct two_groups){5, 5, 7, 8}));
}

static const char data_table[] = "tests/data/strata.csv";
static const char values_table[] = "tests/data/strata_values.csv";
enum { STRATA_MOST = 10 };

static size_t load(const char *example, struct two_groups ret[STRATA_MOST])
{
    struct csv csv;
    size_t count = 0;
    published_load(data_table, &csv);
    for (size_t i = 0; i < csv.row_count; i++) {
        if (strcmp(published_field(&csv, i, "example"), example) != 0)
            continue;
        int64_t kept_a = published_whole(&csv, i, "kept_a");
        int64_t kept_b = published_whole(&csv, i, "kept_b");
        ret[count++] = (struct two_groups){kept_a + published_whole(&csv, i, "culled_a"), kept_a,
                                           kept_b + published_whole(&csv, i, "culled_b"), kept_b};
    }
    csv_done(&csv);
    return count;
}

/* All that the tables have numbers for. */
enum quantity {
    DIFFERENCE,
    DIFFERENCE_LOW,
    DIFFERENCE_HIGH,
    DIFFERENCE_SE,
    ODDS_RATIO,
    ODDS_RATIO_LOW,
    ODDS_RATIO_HIGH,
    ODDS_RATIO_SE,
    CMH,
    CMH_P,
    BRESLOW_DAY,
    BRESLOW_DAY_DF,
    BRESLOW_DAY_P,
    QUANTITIES
};
static const char *const names[QUANTITIES] = {
    "difference",     "difference_low",  "difference_high", "difference_se", "odds_ratio",
    "odds_ratio_low", "odds_ratio_high", "odds_ratio_se",   "cmh",           "cmh_p",
    "breslow_day",    "breslow_day_df",  "breslow_day_p"};

static void compute(const struct two_groups *strata, size_t count, double confidence,
                    double ret[QUANTITIES])
{
    struct estimate difference = mantel_haenszel_difference(strata, count, confidence);
    struct estimate ratio = mantel_haenszel_odds_ratio(strata, count, confidence);
    struct significance equal = mantel_haenszel_equal(strata, count);
    struct significance alike = mantel_haenszel_alike(strata, count);
    assert_true(difference.has_interval && ratio.has_interval && equal.known && alike.known);
    double z = confidence > 0.92 ? 1.95996398454005 : 1.64485362695147; /* 95 and 90 % */
    const double values[QUANTITIES] = {
        [DIFFERENCE] = difference.value,
        [DIFFERENCE_LOW] = difference.interval.low,
        [DIFFERENCE_HIGH] = difference.interval.high,
        [DIFFERENCE_SE] = (difference.interval.high - difference.value) / z,
        [ODDS_RATIO] = ratio.value,
        [ODDS_RATIO_LOW] = ratio.interval.low,
        [ODDS_RATIO_HIGH] = ratio.interval.high,
        [ODDS_RATIO_SE] = log(ratio.interval.high / ratio.value) / z,
        [CMH] = equal.statistic,
        [CMH_P] = equal.p,
        [BRESLOW_DAY] = alike.statistic,
        [BRESLOW_DAY_DF] = alike.df,
        [BRESLOW_DAY_P] = alike.p,
    };
    memcpy(ret, values, sizeof values);
}

static double quantity_of(const struct csv *csv, size_t row)
{
    struct two_groups strata[STRATA_MOST];
    double values[QUANTITIES];
    size_t count = load(published_field(csv, row, "example"), strata);
    compute(strata, count, strtod(published_field(csv, row, "confidence"), NULL), values);
    size_t at = 0;
    while (at < QUANTITIES && strcmp(names[at], published_field(csv, row, "quantity")) != 0)
        at++;
    assert_true(at < QUANTITIES);
    return values[at];
}

/* Hospitals, university departments, cities and age groups instead of seasons; some of the cells
 * are empty. */
static void agrees_with_the_tables(void **state)
{
    (void)state;
    struct csv csv;
    int published = 0;
    published_load(values_table, &csv);
    assert_int_equal(csv.row_count, 6 * QUANTITIES);
    for (size_t i = 0; i < csv.row_count; i++) {
        const char *name = published_field(&csv, i, "example");
        const char *printed = published_field(&csv, i, "published");
        double value = quantity_of(&csv, i);
        assert_printed_as(name, printed, value);
        assert_recomputed(name, published_field(&csv, i, "value"), value);
        published += *printed != '\0';
    }
    assert_int_equal(published, 34);
    csv_done(&csv);
}

static void every_row_names_its_source(void **state)
{
    (void)state;
    assert_sources_named(newcombe_table);
    assert_sources_named(fisher_table);
    assert_sources_named(values_table);
}

static void one_stratum_is_the_table_itself(void **state)
{
    (void)state;
    static const struct two_groups one = {70, 56, 80, 48};
    struct estimate difference = mantel_haenszel_difference(&one, 1, 0.95);
    struct estimate ratio = mantel_haenszel_odds_ratio(&one, 1, 0.95);
    assert_true(fabs(difference.value - 0.2) < 1e-15);
    assert_true(fabs(ratio.value - 56.0 * 32 / (14 * 48)) < 1e-14);
    double se = sqrt(1 / 56.0 + 1 / 14.0 + 1 / 48.0 + 1 / 32.0);
    assert_true(fabs(log(ratio.interval.high / ratio.value) / 1.959963984540054 - se) < 1e-14);
    assert_false(mantel_haenszel_alike(&one, 1).known);
}

/* A season in which the same shares are found again agrees with the first. */
static void strata_that_repeat_each_other_are_alike(void **state)
{
    (void)state;
    static const struct two_groups strata[] = {{70, 56, 80, 48}, {140, 112, 160, 96}};
    struct significance alike = mantel_haenszel_alike(strata, 2);
    assert_true(alike.known && alike.df == 1);
    assert_true(alike.statistic < 1e-20 && alike.p > 0.999999);
    static const struct two_groups even[] = {{10, 5, 10, 5}, {40, 10, 20, 5}}; /* ratio 1 */
    assert_true(mantel_haenszel_alike(even, 2).statistic < 1e-20);
    assert_true(mantel_haenszel_equal(even, 2).statistic < 1e-20);
}

/* Against each other they must not cancel unseen. */
static void strata_that_contradict_each_other_are_not(void **state)
{
    (void)state;
    static const struct two_groups strata[] = {{100, 70, 100, 30}, {100, 30, 100, 70}};
    assert_true(fabs(mantel_haenszel_difference(strata, 2, 0.95).value) < 1e-15);
    assert_true(mantel_haenszel_equal(strata, 2).p > 0.999999);
    assert_true(mantel_haenszel_alike(strata, 2).p < 1e-12);
}

static void all_or_none_of_a_stratum_say_nothing_of_the_ratio(void **state)
{
    (void)state;
    static const struct two_groups strata[] = {
        {70, 56, 80, 48}, {20, 0, 30, 0}, {90, 60, 50, 20}, {20, 20, 30, 30}};
    static const struct two_groups informative[] = {{70, 56, 80, 48}, {90, 60, 50, 20}};
    assert_int_equal(mantel_haenszel_alike(strata, 4).df, 1);
    assert_true(mantel_haenszel_alike(strata, 4).statistic ==
                mantel_haenszel_alike(informative, 2).statistic);
    assert_true(fabs(mantel_haenszel_equal(strata, 4).statistic -
                     mantel_haenszel_equal(informative, 2).statistic) < 1e-12);
    assert_true(mantel_haenszel_odds_ratio(strata, 4, 0.95).value ==
                mantel_haenszel_odds_ratio(informative, 2, 0.95).value);
    assert_true(mantel_haenszel_difference(strata, 4, 0.95).value <
                mantel_haenszel_difference(informative, 2, 0.95).value);
}

static void what_cannot_be_computed_is_not_known(void **state)
{
    (void)state;
    static const struct two_groups none[] = {{10, 0, 20, 0}, {5, 0, 9, 0}};
    static const struct two_groups apart[] = {{10, 10, 20, 0}, {5, 5, 9, 0}};
    static const struct two_groups never_a[] = {{10, 0, 20, 3}, {5, 0, 9, 2}};
    assert_false(mantel_haenszel_difference(none, 0, 0.95).known);
    assert_true(mantel_haenszel_difference(none, 2, 0.95).known);
    assert_false(mantel_haenszel_difference(none, 2, 0.95).has_interval);
    assert_false(mantel_haenszel_odds_ratio(none, 2, 0.95).known);
    assert_false(mantel_haenszel_equal(none, 2).known || mantel_haenszel_alike(none, 2).known);
    assert_true(mantel_haenszel_difference(apart, 2, 0.95).value == 1);
    assert_false(mantel_haenszel_difference(apart, 2, 0.95).has_interval);
    assert_false(mantel_haenszel_odds_ratio(apart, 2, 0.95).known ||
                 mantel_haenszel_alike(apart, 2).known);
    assert_true(mantel_haenszel_equal(apart, 2).p < 1e-6);
    assert_true(mantel_haenszel_odds_ratio(never_a, 2, 0.95).known);
    assert_true(mantel_haenszel_odds_ratio(never_a, 2, 0.95).value == 0);
    assert_false(mantel_haenszel_odds_ratio(never_a, 2, 0.95).has_interval);
    assert_false(mantel_haenszel_alike(never_a, 2).known);
    assert_true(mantel_haenszel_difference(never_a, 2, 0.95).has_interval);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tails_of_the_chi_squared_distribution),
        cmocka_unit_test(keeps_what_it_was_given),
        cmocka_unit_test(newcombe_agrees_with_his_table),
        cmocka_unit_test(fisher_agrees_with_the_table),
        cmocka_unit_test(every_row_names_its_source),
        cmocka_unit_test(fisher_is_right_for_all_small_tables),
        cmocka_unit_test(fisher_serves_whole_spawnings),
        cmocka_unit_test(the_other_way_round_changes_the_sign),
        cmocka_unit_test(knows_what_can_be_compared),
        cmocka_unit_test(agrees_with_the_tables),
        cmocka_unit_test(one_stratum_is_the_table_itself),
        cmocka_unit_test(strata_that_repeat_each_other_are_alike),
        cmocka_unit_test(strata_that_contradict_each_other_are_not),
        cmocka_unit_test(all_or_none_of_a_stratum_say_nothing_of_the_ratio),
        cmocka_unit_test(what_cannot_be_computed_is_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
