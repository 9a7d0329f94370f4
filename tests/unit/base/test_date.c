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

/* Weekdays printed by date(1). */
static void a_date_knows_its_weekday(void **state)
{
    (void)state;
    static const struct {
        const char *day, *weekday;
    } rows[] = {
        {"1970-01-01", "Thursday"}, {"1969-12-31", "Wednesday"}, {"1900-01-01", "Monday"},
        {"2026-06-14", "Sunday"},   {"2024-02-29", "Thursday"},  {"2026-11-30", "Monday"},
        {"2199-12-31", "Tuesday"},  {"2026-08-01", "Saturday"},  {"2026-08-07", "Friday"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        assert_string_equal(date_weekday(rows[i].day), rows[i].weekday);
}

/* Today is Tuesday, 30 June 2026. */
static void days_are_understood_as_people_write_them(void **state)
{
    (void)state;
    static const struct {
        const char *typed, *day;
    } rows[] = {
        {"2026-06-14", "2026-06-14"},
        {"2026/6/14", "2026-06-14"},
        {"2026.6.4", "2026-06-04"},
        {"2026 06 14", "2026-06-14"},
        {"20260614", "2026-06-14"},
        {"1999-12-31", "1999-12-31"},
        {"14.6.26", "2026-06-14"},
        {"14.06.2026", "2026-06-14"},
        {"14. 6. 2026", "2026-06-14"},
        {"14/6/26", "2026-06-14"},
        {"14-6-26", "2026-06-14"},
        {"14 6 26", "2026-06-14"},
        {"1.2.03", "2003-02-01"},
        {"1.1.00", "2000-01-01"},
        {"31.12.99", "2099-12-31"},
        /* No year: the latest such day up to today. */
        {"14.6.", "2026-06-14"},
        {"14.6", "2026-06-14"},
        {"14/6", "2026-06-14"},
        {"14 6", "2026-06-14"},
        {"14-6", "2026-06-14"},
        {"30.6", "2026-06-30"},
        {"1.7.", "2025-07-01"},
        {"31.12.", "2025-12-31"},
        {"29.2.", "2024-02-29"},
        /* Day first, but where only the month can stand in front. */
        {"4/6", "2026-06-04"},
        {"6/4", "2026-04-06"},
        {"6/14", "2026-06-14"},
        {"6/14/26", "2026-06-14"},
        {"12/12", "2025-12-12"},
        {"26-06-14", "2014-06-26"},
        {"14 June", "2026-06-14"},
        {"14. jun 26", "2026-06-14"},
        {"June 14, 2026", "2026-06-14"},
        {"1 December", "2025-12-01"},
        {"2026 june 14", "2026-06-14"},
        {"today", "2026-06-30"},
        {"Today", "2026-06-30"},
        {"yesterday", "2026-06-29"},
        {"-0", "2026-06-30"},
        {"-1", "2026-06-29"},
        {"-2", "2026-06-28"},
        {"-30", "2026-05-31"},
        {"-9999", "1999-02-13"},
        {"  14.6.  ", "2026-06-14"},
        {"\xE3\x80\x80"
         "14/6 ",
         "2026-06-14"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char day[DATE_SIZE] = "";
        struct err err = {0};
        if (!date_typed(rows[i].typed, "2026-06-30", day, &err))
            fail_msg("\"%s\" is refused: %s", rows[i].typed, err.text);
        if (strcmp(day, rows[i].day) != 0)
            fail_msg("\"%s\" is taken for %s, not %s", rows[i].typed, day, rows[i].day);
    }
}

static void what_is_no_day_is_refused(void **state)
{
    (void)state;
    static const char *const no_dates[] = {
        "",          " ",      "14",        "2026",        "14.",    "junk",      "tomorrow",
        "toda",      "--2",    "-",         "-x",          "-10000", "+2",        "14..6.26.1",
        "1.2.3",     "14.6.6", "14.6.026",  "14:6",        "14 ju",  "june june", "june",
        "June 26 4", "2026-6", "6-2026-14", "2026-014-06", "140626", "123456789", "14.6.26 x"};
    static const char *const absent_days[] = {"31.6.",    "31/6/26",  "29.2.26",   "30.2.",
                                              "0.6.",     "14.0.",    "13/13",     "2026-02-29",
                                              "20260631", "2026-0-1", "14.6.1899", "1.1.2200"};
    char day[DATE_SIZE] = "as was";
    struct err err;
    for (size_t i = 0; i < sizeof no_dates / sizeof *no_dates; i++)
        if (date_typed(no_dates[i], "2026-06-30", day, &err))
            fail_msg("\"%s\" was taken for %s", no_dates[i], day);
    for (size_t i = 0; i < sizeof absent_days / sizeof *absent_days; i++) {
        if (date_typed(absent_days[i], "2026-06-30", day, &err))
            fail_msg("\"%s\" was taken for %s", absent_days[i], day);
        assert_non_null(strstr(err.text, "The calendar has no day"));
    }
    assert_string_equal(day, "as was");
}

/* Day first, all year round: whichever way it is written, every day comes back. */
static void every_day_of_a_year_is_understood(void **state)
{
    (void)state;
    char day[DATE_SIZE], typed[32], understood[DATE_SIZE];
    struct err err;
    for (int days = date_days("2024-01-01"); days <= date_days("2024-12-31"); days++) {
        date_text(days, day);
        int month = (day[5] - '0') * 10 + day[6] - '0',
            of_month = (day[8] - '0') * 10 + day[9] - '0';
        snprintf(typed, sizeof typed, "%d.%d.24", of_month, month);
        assert_true(date_typed(typed, "2026-06-30", understood, &err));
        assert_string_equal(understood, day);
        snprintf(typed, sizeof typed, "%d/%d", of_month, month);
        assert_true(date_typed(typed, "2024-12-31", understood, &err));
        assert_string_equal(understood, day);
        snprintf(typed, sizeof typed, "-%d", date_days("2024-12-31") - days);
        assert_true(date_typed(typed, "2024-12-31", understood, &err));
        assert_string_equal(understood, day);
    }
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
        cmocka_unit_test(a_date_knows_its_weekday),
        cmocka_unit_test(days_are_understood_as_people_write_them),
        cmocka_unit_test(what_is_no_day_is_refused),
        cmocka_unit_test(every_day_of_a_year_is_understood),
        cmocka_unit_test(an_instant_has_a_local_day_and_time),
        cmocka_unit_test(a_day_begins_at_local_midnight),
        cmocka_unit_test(a_fixed_clock_stands_until_it_is_moved),
        cmocka_unit_test(any_function_can_be_a_clock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
