/* The calendar is worked out here and not by the C library, whose functions depend on the machine's
 * time zone and locale. Days are counted in eras of 400 years that begin on 1 March, so that the
 * leap day is the last of its year (the usual method for the proleptic Gregorian calendar). */
#include "senbetsu/base/date.h"

#include <stdio.h>
#include <string.h>

enum {
    FIRST_YEAR = 1900,
    LAST_YEAR = 2199,
    DAYS_IN_400_YEARS = 146097,
    DAYS_TO_1970 = 719468, /* from 0000-03-01 */
    MINUTE_MS = 60 * 1000,
};

static bool leap(int year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static int days_in_month(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && leap(year) ? 29 : days[month - 1];
}

static int digits(const char *text, int count)
{
    int number = 0;
    for (int i = 0; i < count; i++)
        number = number * 10 + (text[i] - '0');
    return number;
}

bool date_valid(const char *text)
{
    static const char shape[] = "dddd-dd-dd";
    for (size_t i = 0; i < sizeof shape; i++) {
        bool digit = text[i] >= '0' && text[i] <= '9';
        if (shape[i] == 'd' ? !digit : text[i] != shape[i])
            return false;
    }
    int year = digits(text, 4), month = digits(text + 5, 2), day = digits(text + 8, 2);
    return year >= FIRST_YEAR && year <= LAST_YEAR && month >= 1 && month <= 12 && day >= 1 &&
           day <= days_in_month(year, month);
}

/* Years are counted from 1 March, so that the leap day is a year's last. */
int date_days(const char *text)
{
    int month = digits(text + 5, 2), day = digits(text + 8, 2);
    int year = digits(text, 4) - (month <= 2);
    int era = year / 400, year_of_era = year % 400;
    int day_of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    int day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return era * DAYS_IN_400_YEARS + day_of_era - DAYS_TO_1970;
}

void date_text(int days, char ret_text[DATE_SIZE])
{
    int count = days + DAYS_TO_1970;
    int era = count / DAYS_IN_400_YEARS, day_of_era = count % DAYS_IN_400_YEARS;
    int year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    int day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    int month_from_march = (5 * day_of_year + 2) / 153;
    int day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    int month = month_from_march < 10 ? month_from_march + 3 : month_from_march - 9;
    int year = era * 400 + year_of_era + (month <= 2);
    char text[48];
    snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
    memcpy(ret_text, text, DATE_SIZE - 1);
    ret_text[DATE_SIZE - 1] = '\0';
}

int date_year(const char *text)
{
    return digits(text, 4);
}

int64_t date_begins(const char *text, int offset_minutes)
{
    return (int64_t)date_days(text) * DAY_MS - (int64_t)offset_minutes * MINUTE_MS;
}

/* Splits a local instant into days and the milliseconds of the day, also before 1970. */
static int split(int64_t ms, int offset_minutes, int *ret_ms_of_day)
{
    int64_t local = ms + (int64_t)offset_minutes * MINUTE_MS;
    int64_t days = local / DAY_MS, rest = local % DAY_MS;
    if (rest < 0) {
        rest += DAY_MS;
        days--;
    }
    *ret_ms_of_day = (int)rest;
    return (int)days;
}

void date_of_instant(int64_t ms, int offset_minutes, char ret_text[DATE_SIZE])
{
    int ms_of_day;
    date_text(split(ms, offset_minutes, &ms_of_day), ret_text);
}

void time_of_instant(int64_t ms, int offset_minutes, char ret_text[TIME_OF_DAY_SIZE])
{
    int ms_of_day;
    split(ms, offset_minutes, &ms_of_day);
    int minutes = ms_of_day / MINUTE_MS;
    const char text[TIME_OF_DAY_SIZE] = {
        (char)('0' + minutes / 600), (char)('0' + minutes / 60 % 10), ':',
        (char)('0' + minutes % 60 / 10), (char)('0' + minutes % 10)};
    memcpy(ret_text, text, TIME_OF_DAY_SIZE);
}

int64_t clock_now(const struct clock *clock)
{
    return clock->now_ms(clock->context);
}

void clock_today(const struct clock *clock, char ret_day[DATE_SIZE])
{
    date_of_instant(clock_now(clock), clock->offset_minutes, ret_day);
}

static int64_t fixed_now(void *context)
{
    return *(const int64_t *)context;
}

struct clock clock_fixed(int64_t *ms)
{
    return (struct clock){.now_ms = fixed_now, .context = ms};
}
