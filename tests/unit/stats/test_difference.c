#include "senbetsu/stats/difference.h"
#include "support/published.h"

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

static void every_row_names_its_source(void **state)
{
    (void)state;
    assert_sources_named(newcombe_table);
    assert_sources_named(fisher_table);
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(newcombe_agrees_with_his_table),
        cmocka_unit_test(fisher_agrees_with_the_table),
        cmocka_unit_test(every_row_names_its_source),
        cmocka_unit_test(fisher_is_right_for_all_small_tables),
        cmocka_unit_test(fisher_serves_whole_spawnings),
        cmocka_unit_test(the_other_way_round_changes_the_sign),
        cmocka_unit_test(knows_what_can_be_compared),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
