#include "senbetsu/core/tally.h"
#include "support/test.h"

/* Scoops of 50 with an error of 0.023094, of 30 with 0.1, and of 500 from a single sample. */
static const struct scoop fifty = {.id = 1, .fish = 150, .squares = 7508, .samples = 3};
static const struct scoop thirty = {.id = 2, .fish = 60, .squares = 1818, .samples = 2};
static const struct scoop single = {.id = 3, .fish = 500, .squares = 250000, .samples = 1};
static const struct scoop none = {.id = 0};

static struct tally_line line(enum tally_kind kind, const char *reason, struct scoop scoop,
                              int64_t times)
{
    struct tally_line line = {{.kind = kind, .scoop = scoop}, times};
    snprintf(line.mark.reason, sizeof line.mark.reason, "%s", reason);
    return line;
}

static void assert_count(struct count count, int64_t number, enum method method, int cv)
{
    assert_int_equal(count.number, number);
    assert_int_equal(count.method, method);
    assert_int_equal(count.cv, cv);
}

static void test_nothing_tallied(void **state)
{
    (void)state;
    struct tally_totals totals = tally_totals_of(NULL, 0);
    assert_count(totals.kept, 0, METHOD_COUNTED, 0);
    assert_count(totals.rejected, 0, METHOD_COUNTED, 0);
    assert_int_equal(totals.reason_count, 0);
    assert_int_equal(tally_handled(&totals), 0);
}

static void test_fish_by_fish_is_counted(void **state)
{
    (void)state;
    const struct tally_line lines[] = {
        line(TALLY_KEEP, "", none, 12), line(TALLY_REJECT, "spine", none, 5),
        line(TALLY_REJECT, "", none, 80), line(TALLY_DEAD, "", none, 3)};
    struct tally_totals totals = tally_totals_of(lines, 4);
    assert_count(totals.kept, 12, METHOD_COUNTED, 0);
    assert_count(totals.rejected, 85, METHOD_COUNTED, 0);
    assert_count(totals.dead, 3, METHOD_COUNTED, 0);
    assert_int_equal(totals.reason_count, 2);
    assert_string_equal(totals.reasons[0].code, "spine");
    assert_int_equal(totals.reasons[0].count.number, 5);
    assert_int_equal(totals.reasons[1].count.number, 80);
    assert_int_equal(tally_handled(&totals), 100);
}

/* However many scoops of one size: the relative error is that of the size. */
static void test_scoops_carry_the_error_of_their_size(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_REJECT, "spine", fifty, 4),
                                       line(TALLY_REJECT, "", fifty, 16)};
    struct tally_totals totals = tally_totals_of(lines, 2);
    assert_count(totals.rejected, 1000, METHOD_SCOOPED, 23094);
    assert_count(totals.reasons[0].count, 200, METHOD_SCOOPED, 23094);
}

/* Scoops of 50 and a third: 7 are 352, 4 are 201, all 15 are 755 and not 754. */
static void test_reasons_add_up(void **state)
{
    (void)state;
    const struct scoop odd = {.id = 4, .fish = 151, .squares = 7601, .samples = 3};
    const struct tally_line lines[] = {
        line(TALLY_REJECT, "spine", odd, 7), line(TALLY_REJECT, "jaw", odd, 4),
        line(TALLY_REJECT, "", odd, 4), line(TALLY_REJECT, "gill", none, 400)};
    struct tally_totals totals = tally_totals_of(lines, 4);
    int64_t sum = 0;
    for (int i = 0; i < totals.reason_count; i++)
        sum += totals.reasons[i].count.number;
    assert_int_equal(totals.rejected.number, 755 + 400);
    assert_int_equal(sum, 755 + 400);
    assert_int_equal(totals.reasons[0].count.number, 353); /* 352 by itself */
    assert_int_equal(totals.reasons[3].count.number, 400);
}

/* 500 fish ± 2.3094 % are ± 11.547 fish; 500 more counted one by one halve the share. */
static void test_counted_fish_dilute_the_error(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", fifty, 10),
                                       line(TALLY_KEEP, "", none, 500)};
    struct tally_totals totals = tally_totals_of(lines, 2);
    assert_count(totals.kept, 1000, METHOD_SCOOPED, 11547);
}

/* A size that is 2.3 % too high is so in the fish kept and in all fish alike. */
static void test_scoops_of_one_size_share_their_error(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", fifty, 10),
                                       line(TALLY_REJECT, "", fifty, 30)};
    struct tally_totals totals = tally_totals_of(lines, 2);
    assert_int_equal(totals.covariance, (int64_t)23094 * 23094);
    const struct count lot = {2100, METHOD_WEIGHED, 50000};
    tally_settle(&totals, MANNER_PICK, &lot);
    assert_int_equal(totals.covariance, 0);
}

/* 500 ± 11.547 of 1000 fish: half of the error in the one number, a quarter in the other. */
static void test_counted_fish_share_none(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", fifty, 10),
                                       line(TALLY_KEEP, "", none, 500),
                                       line(TALLY_REJECT, "", none, 1000)};
    struct tally_totals totals = tally_totals_of(lines, 3);
    assert_int_equal(totals.covariance, 11547 * 5773);
}

/* 1000 ± 50 fish without 400 counted ones: 600 ± 50, the same fifty fish. */
static void test_a_rest_shares_the_lots_error(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_REJECT, "spine", none, 400)};
    struct tally_totals totals = tally_totals_of(lines, 1);
    const struct count lot = {1000, METHOD_WEIGHED, 50000};
    tally_settle(&totals, MANNER_REMOVE, &lot);
    assert_count(totals.kept, 600, METHOD_WEIGHED, 83333);
    assert_int_equal(totals.covariance, (int64_t)50000 * 83333);
}

/* 500 ± 11.547 and 300 ± 10 together are 800 ± √(133.3 + 100) = 15.275 fish, 1.909 %. */
static void test_sizes_are_independent(void **state)
{
    (void)state;
    assert_int_equal(scoop_cv(&thirty), 100000);
    const struct scoop small = {.id = 2, .fish = 3000, .squares = 4505000, .samples = 2};
    const struct tally_line lines[] = {line(TALLY_KEEP, "", fifty, 10),
                                       line(TALLY_KEEP, "", small, 1)};
    assert_int_equal(scoop_cv(&small), 33333);
    struct tally_totals totals = tally_totals_of(lines, 2);
    /* 500 ± 11.547 and 1500 ± 50: √(133.3 + 2500) = 51.316 of 2000. */
    assert_count(totals.kept, 2000, METHOD_SCOOPED, 25658);
}

static void test_an_unknown_error_stays_unknown(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", single, 2),
                                       line(TALLY_KEEP, "", fifty, 4)};
    struct tally_totals totals = tally_totals_of(lines, 2);
    assert_count(totals.kept, 1200, METHOD_SCOOPED, 0);
    assert_true(count_error_unknown(&totals.kept));
}

static void test_pick_leaves_the_rest(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", none, 120),
                                       line(TALLY_DEAD, "", none, 30)};
    struct tally_totals totals = tally_totals_of(lines, 2);
    const struct count lot = {2000, METHOD_COUNTED, 0};
    tally_settle(&totals, MANNER_PICK, &lot);
    assert_count(totals.rejected, 1850, METHOD_COUNTED, 0);
    assert_true(totals.rejected_is_rest);
    assert_false(totals.kept_is_rest);
}

/* 1000 ± 50 fish without 500 counted ones: 500 ± 50. */
static void test_the_rest_carries_the_lots_error(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", none, 500)};
    struct tally_totals totals = tally_totals_of(lines, 1);
    const struct count lot = {1000, METHOD_WEIGHED, 50000};
    tally_settle(&totals, MANNER_PICK, &lot);
    assert_count(totals.rejected, 500, METHOD_WEIGHED, 100000);
}

static void test_remove_leaves_the_kept(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_REJECT, "spine", none, 400)};
    struct tally_totals totals = tally_totals_of(lines, 1);
    const struct count lot = {1000, METHOD_COUNTED, 0};
    tally_settle(&totals, MANNER_REMOVE, &lot);
    assert_count(totals.kept, 600, METHOD_COUNTED, 0);
    assert_true(totals.kept_is_rest);
    assert_count(totals.rejected, 400, METHOD_COUNTED, 0);
}

static void test_tallied_keeps_outweigh_the_rest(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", none, 580),
                                       line(TALLY_REJECT, "", none, 400)};
    struct tally_totals totals = tally_totals_of(lines, 2);
    const struct count lot = {1000, METHOD_COUNTED, 0};
    tally_settle(&totals, MANNER_REMOVE, &lot);
    assert_count(totals.kept, 580, METHOD_COUNTED, 0);
    assert_false(totals.kept_is_rest);
}

/* More fish than the lot should have had: what was tallied stands. */
static void test_more_than_the_lot_changes_nothing(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", none, 50)};
    struct tally_totals totals = tally_totals_of(lines, 1);
    const struct count lot = {40, METHOD_COUNTED, 0}, unknown = {NOT_COUNTED, METHOD_UNSAID, 0};
    tally_settle(&totals, MANNER_PICK, &lot);
    assert_count(totals.rejected, 0, METHOD_COUNTED, 0);
    assert_false(totals.rejected_is_rest);
    tally_settle(&totals, MANNER_PICK, &unknown);
    assert_false(totals.rejected_is_rest);
}

/* Kept and rejected scoops of one size have one error, and so has the whole. */
static void test_what_went_in(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", fifty, 10),
                                       line(TALLY_REJECT, "", fifty, 10)};
    const struct count lot = {990, METHOD_COUNTED, 0}, unknown = {NOT_COUNTED, METHOD_UNSAID, 0};
    struct tally_totals both = tally_totals_of(lines, 2), kept = tally_totals_of(lines, 1);
    assert_count(both.in, 1000, METHOD_SCOOPED, 23094);
    tally_settle(&both, MANNER_PICK, &unknown);
    assert_count(both.in, 1000, METHOD_SCOOPED, 23094);
    tally_settle(&both, MANNER_PICK, &lot);
    assert_count(both.in, 990, METHOD_COUNTED, 0);
    tally_settle(&kept, MANNER_PICK, &unknown);
    assert_count(kept.in, NOT_COUNTED, METHOD_UNSAID, 0);
}

static void test_what_is_left(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_KEEP, "", none, 100),
                                       line(TALLY_REJECT, "", none, 300)};
    const struct count lot = {1000, METHOD_COUNTED, 0}, small = {200, METHOD_COUNTED, 0},
                       unknown = {NOT_COUNTED, METHOD_UNSAID, 0};
    struct tally_totals both = tally_totals_of(lines, 2), kept = tally_totals_of(lines, 1);
    assert_int_equal(tally_left(&both, MANNER_PICK, &lot), 600);
    assert_int_equal(tally_left(&both, MANNER_PICK, &small), 0);
    assert_int_equal(tally_left(&both, MANNER_PICK, &unknown), -1);
    assert_int_equal(tally_left(&kept, MANNER_PICK, &lot), -1);
    assert_int_equal(tally_left(&kept, MANNER_REMOVE, &lot), 900);
}

/* Three keys of one fish in a minute each, a break, a scoop of 50 after half a minute. */
static void test_pace_leaves_breaks_out(void **state)
{
    enum { MINUTE = 60 * 1000 };
    (void)state;
    struct tally_pace pace = {.last_ms = 0};
    assert_int_equal(tally_pace_per_hour(&pace), 0);
    tally_pace_add(&pace, 10 * MINUTE, 1);
    assert_int_equal(tally_pace_per_hour(&pace), 0);
    tally_pace_add(&pace, 11 * MINUTE, 1);
    tally_pace_add(&pace, 12 * MINUTE, 1);
    assert_int_equal(tally_pace_per_hour(&pace), 60);
    tally_pace_add(&pace, 40 * MINUTE, 1);
    assert_int_equal(tally_pace_per_hour(&pace), 60);
    tally_pace_add(&pace, 41 * MINUTE, 50);
    assert_int_equal(tally_pace_per_hour(&pace), 1040);
}

static void test_minutes_to_the_end(void **state)
{
    (void)state;
    assert_int_equal(tally_minutes(600, 1200), 30);
    assert_int_equal(tally_minutes(601, 1200), 31);
    assert_int_equal(tally_minutes(0, 1200), 0);
    assert_int_equal(tally_minutes(-1, 1200), -1);
    assert_int_equal(tally_minutes(600, 0), -1);
}

static void test_lines_are_found_by_sort(void **state)
{
    (void)state;
    const struct tally_line lines[] = {line(TALLY_REJECT, "spine", none, 1),
                                       line(TALLY_REJECT, "spine", fifty, 1)};
    const struct tally_line other = line(TALLY_REJECT, "jaw", none, 1);
    assert_int_equal(tally_line_find(lines, 2, &lines[1].mark), 1);
    assert_int_equal(tally_line_find(lines, 2, &other.mark), -1);
}

static void test_picks_of_a_closer_look(void **state)
{
    (void)state;
    static const struct tally_line lines[] = {
        {.mark = {.kind = TALLY_KEEP}, .times = 4},
        {.mark = {.kind = TALLY_KEEP, .reason = TALLY_STAYS}, .times = 3},
        {.mark = {.kind = TALLY_REJECT}, .times = 7},
    };
    struct picks picks = picks_of(lines, 3);
    assert_int_equal(picks.from_hold, 4);
    assert_int_equal(picks.stay, 3);
    assert_int_equal(picks_total(&picks), 7);
    struct picks standing = picks_standing(&picks, false);
    assert_int_equal(picks_total(&standing), 4);
    standing = picks_standing(&picks, true);
    assert_int_equal(picks_total(&standing), 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nothing_tallied),
        cmocka_unit_test(test_fish_by_fish_is_counted),
        cmocka_unit_test(test_scoops_carry_the_error_of_their_size),
        cmocka_unit_test(test_reasons_add_up),
        cmocka_unit_test(test_counted_fish_dilute_the_error),
        cmocka_unit_test(test_scoops_of_one_size_share_their_error),
        cmocka_unit_test(test_counted_fish_share_none),
        cmocka_unit_test(test_a_rest_shares_the_lots_error),
        cmocka_unit_test(test_sizes_are_independent),
        cmocka_unit_test(test_an_unknown_error_stays_unknown),
        cmocka_unit_test(test_pick_leaves_the_rest),
        cmocka_unit_test(test_the_rest_carries_the_lots_error),
        cmocka_unit_test(test_remove_leaves_the_kept),
        cmocka_unit_test(test_tallied_keeps_outweigh_the_rest),
        cmocka_unit_test(test_more_than_the_lot_changes_nothing),
        cmocka_unit_test(test_what_went_in),
        cmocka_unit_test(test_what_is_left),
        cmocka_unit_test(test_pace_leaves_breaks_out),
        cmocka_unit_test(test_minutes_to_the_end),
        cmocka_unit_test(test_lines_are_found_by_sort),
        cmocka_unit_test(test_picks_of_a_closer_look),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
