#include "support/test.h"

#include "senbetsu/base/csv.h"
#include "senbetsu/stats/proportion.h"
#include "support/source.h"

#include <math.h>

/* Each row of tests/data/wilson.csv names its source and how well it is known: QUOTED-SEEN was read
 * where somebody else quotes it, RECOMPUTED and DERIVED have no published value behind them. */
enum { CASE, KEPT, TOTAL, CONFIDENCE, PUBLISHED_LOW, PUBLISHED_HIGH, SOURCE, STATUS, LOW, HIGH };

static void load(struct csv *ret)
{
    struct text bytes;
    struct err err;
    source_file("tests/data/wilson.csv", &bytes);
    assert_ok(csv_parse(bytes.data, bytes.length, ret, &err), &err);
    text_done(&bytes);
}

/* As many decimals as were printed, and the same digits. */
static void check_printed(const char *name, const char *printed, double value)
{
    if (*printed == '\0')
        return;
    char ours[32];
    snprintf(ours, sizeof ours, "%.*f", (int)strlen(strchr(printed, '.') + 1), value);
    if (strcmp(ours, printed) != 0)
        fail_msg("%s: %s is published, %s came out", name, printed, ours);
}

static void check_exact(const char *name, const char *expected, double value)
{
    if (*expected != '\0' && fabs(strtod(expected, NULL) - value) > 1e-12)
        fail_msg("%s: %s expected, %.15g came out", name, expected, value);
}

static struct interval interval_of(char **fields)
{
    return wilson_interval(strtoll(fields[KEPT], NULL, 10), strtoll(fields[TOTAL], NULL, 10),
                           strtod(fields[CONFIDENCE], NULL));
}

static void agrees_with_published_digits(void **state)
{
    (void)state;
    struct csv csv;
    load(&csv);
    int published = 0;
    for (size_t i = 0; i < csv.row_count; i++) {
        char **fields = csv.rows[i].fields;
        struct interval interval = interval_of(fields);
        check_printed(fields[CASE], fields[PUBLISHED_LOW], interval.low);
        check_printed(fields[CASE], fields[PUBLISHED_HIGH], interval.high);
        published += *fields[PUBLISHED_LOW] != '\0';
    }
    assert_int_equal(published, 10);
    csv_done(&csv);
}

static void agrees_with_recomputed_values(void **state)
{
    (void)state;
    struct csv csv;
    load(&csv);
    int recomputed = 0;
    for (size_t i = 0; i < csv.row_count; i++) {
        char **fields = csv.rows[i].fields;
        struct interval interval = interval_of(fields);
        check_exact(fields[CASE], fields[LOW], interval.low);
        check_exact(fields[CASE], fields[HIGH], interval.high);
        recomputed += *fields[LOW] != '\0';
    }
    assert_int_equal(recomputed, 53);
    csv_done(&csv);
}

static void every_row_names_its_source(void **state)
{
    (void)state;
    static const char *const known[] = {"PRIMARY-SEEN", "QUOTED-SEEN", "MEMORY", "RECOMPUTED",
                                        "DERIVED"};
    struct csv csv;
    load(&csv);
    for (size_t i = 0; i < csv.row_count; i++) {
        char **fields = csv.rows[i].fields;
        assert_true(*fields[SOURCE] != '\0');
        size_t status = 0;
        while (status < sizeof known / sizeof *known && strcmp(known[status], fields[STATUS]) != 0)
            status++;
        assert_true(status < sizeof known / sizeof *known);
    }
    csv_done(&csv);
}

static void stays_within_0_and_1_and_around_the_share(void **state)
{
    (void)state;
    for (int total = 1; total <= 200; total++) {
        for (int kept = 0; kept <= total; kept++) {
            struct interval interval = wilson_interval(kept, total, 0.95);
            double share = (double)kept / total;
            assert_true(0 <= interval.low && interval.low <= share);
            assert_true(share <= interval.high && interval.high <= 1);
        }
    }
}

static void is_the_same_seen_from_the_other_side(void **state)
{
    (void)state;
    struct interval kept = wilson_interval(17, 60, 0.9);
    struct interval culled = wilson_interval(43, 60, 0.9);
    assert_true(fabs(kept.low - (1 - culled.high)) < 1e-14);
    assert_true(fabs(kept.high - (1 - culled.low)) < 1e-14);
}

static void serves_counts_beyond_32_bits(void **state)
{
    (void)state;
    struct interval interval = wilson_interval(5000000000, 10000000000, 0.95);
    assert_true(0.49998 < interval.low && interval.low < 0.5);
    assert_true(0.5 < interval.high && interval.high < 0.50002);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(agrees_with_published_digits),
        cmocka_unit_test(agrees_with_recomputed_values),
        cmocka_unit_test(every_row_names_its_source),
        cmocka_unit_test(stays_within_0_and_1_and_around_the_share),
        cmocka_unit_test(is_the_same_seen_from_the_other_side),
        cmocka_unit_test(serves_counts_beyond_32_bits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
