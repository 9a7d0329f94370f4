#include "senbetsu/base/date.h"
#include "support/test.h"

static void real_days_are_valid(void **state)
{
    (void)state;
    static const char *const days[] = {"1900-01-01", "2199-12-31", "2024-02-29", "2000-02-29",
                                       "2026-06-14", "2026-11-30", "2026-08-31"};
    for (size_t i = 0; i < sizeof days / sizeof *days; i++)
        assert_true(date_valid(days[i]));
}

static void everything_else_is_not(void **state)
{
    (void)state;
    static const char *const texts[] = {"",           "2026",        "2026-6-14",   "26-06-14",
                                        "2026/06/14", "2026-06-14 ", " 2026-06-14", "2026-06-144",
                                        "2026-13-01", "2026-00-10",  "2026-06-00",  "2026-06-31",
                                        "2026-02-29", "1900-02-29",  "2100-02-29",  "1899-12-31",
                                        "2200-01-01", "2026-06-1x",  "20260614",    "2026-06",
                                        "+026-06-14", "２026-06-14"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        if (date_valid(texts[i]))
            fail_msg("\"%s\" was taken for a date", texts[i]);
}

/* Day numbers printed by POSIX date(1): `date -u -d DAY +%s` divided by 86400. */
static void days_are_counted_from_1970(void **state)
{
    (void)state;
    assert_int_equal(date_days("1970-01-01"), 0);
    assert_int_equal(date_days("1969-12-31"), -1);
    assert_int_equal(date_days("1900-01-01"), -25567);
    assert_int_equal(date_days("2000-02-29"), 11016);
    assert_int_equal(date_days("2000-03-01"), 11017);
    assert_int_equal(date_days("2026-06-14"), 20618);
    assert_int_equal(date_days("2199-12-31"), 84005);
}

static void every_day_comes_back_and_follows_the_one_before(void **state)
{
    (void)state;
    char text[DATE_SIZE], before[DATE_SIZE] = "1899-12-31";
    for (int days = date_days("1900-01-01"); days <= date_days("2199-12-31"); days++) {
        date_text(days, text);
        assert_true(date_valid(text));
        assert_int_equal(date_days(text), days);
        assert_true(strcmp(before, text) < 0);
        memcpy(before, text, DATE_SIZE);
    }
}

static void a_date_knows_its_year(void **state)
{
    (void)state;
    assert_int_equal(date_year("2026-06-14"), 2026);
}

static void assert_instant(int64_t ms, int offset, const char *day, const char *time)
{
    char ret_day[DATE_SIZE], ret_time[TIME_OF_DAY_SIZE];
    date_of_instant(ms, offset, ret_day);
    time_of_instant(ms, offset, ret_time);
    assert_string_equal(ret_day, day);
    assert_string_equal(ret_time, time);
}

static void an_instant_has_a_local_day_and_time(void **state)
{
    (void)state;
    assert_instant(0, 0, "1970-01-01", "00:00");
    assert_instant(-1, 0, "1969-12-31", "23:59");
    assert_instant(0, -60, "1969-12-31", "23:00");
    int64_t noon = (int64_t)20618 * 24 * 3600 * 1000 + 12 * 3600 * 1000;
    assert_instant(noon, 0, "2026-06-14", "12:00");
    assert_instant(noon + 59999, 0, "2026-06-14", "12:00");
    assert_instant(noon, 9 * 60, "2026-06-14", "21:00");
    assert_instant(noon, 12 * 60, "2026-06-15", "00:00");
    assert_instant(noon, 5 * 60 + 45, "2026-06-14", "17:45");
}

static void a_day_begins_at_local_midnight(void **state)
{
    (void)state;
    static const int offsets[] = {0, -60, 9 * 60, 5 * 60 + 45};
    for (size_t i = 0; i < sizeof offsets / sizeof *offsets; i++) {
        int64_t begins = date_begins("2026-06-14", offsets[i]);
        assert_instant(begins, offsets[i], "2026-06-14", "00:00");
        assert_instant(begins + DAY_MS, offsets[i], "2026-06-15", "00:00");
    }
}

static void a_fixed_clock_stands_until_it_is_moved(void **state)
{
    (void)state;
    int64_t now = INT64_C(1781430000000);
    struct clock clock = clock_fixed(&now);
    assert_true(clock_now(&clock) == now);
    assert_int_equal(clock.offset_minutes, 0);
    now += 1500;
    assert_true(clock_now(&clock) == INT64_C(1781430001500));
}

static int64_t counting(void *context)
{
    return ++*(int64_t *)context;
}

static void any_function_can_be_a_clock(void **state)
{
    (void)state;
    int64_t count = 41;
    struct clock clock = {.now_ms = counting, .context = &count};
    assert_int_equal(clock_now(&clock), 42);
    assert_int_equal(clock_now(&clock), 43);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(real_days_are_valid),
        cmocka_unit_test(everything_else_is_not),
        cmocka_unit_test(days_are_counted_from_1970),
        cmocka_unit_test(every_day_comes_back_and_follows_the_one_before),
        cmocka_unit_test(a_date_knows_its_year),
        cmocka_unit_test(an_instant_has_a_local_day_and_time),
        cmocka_unit_test(a_day_begins_at_local_midnight),
        cmocka_unit_test(a_fixed_clock_stands_until_it_is_moved),
        cmocka_unit_test(any_function_can_be_a_clock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
