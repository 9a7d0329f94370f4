/* The calendar is worked out here and not by the C library, whose functions depend on the machine's
 * time zone and locale. Days are counted in eras of 400 years that begin on 1 March, so that the
 * leap day is the last of its year (the usual method for the proleptic Gregorian calendar). */
#include "senbetsu/base/date.h"

#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

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

/* Dates of every fish are written: printf would take longer than working them out. */
static void put_digits(char *to, int count, int number)
{
    for (; count > 0; number /= 10)
        to[--count] = (char)('0' + number % 10);
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
    put_digits(ret_text, 4, year);
    ret_text[4] = '-';
    put_digits(ret_text + 5, 2, month);
    ret_text[7] = '-';
    put_digits(ret_text + 8, 2, day);
    ret_text[DATE_SIZE - 1] = '\0';
}

int date_year(const char *text)
{
    return digits(text, 4);
}

/* Day 0, 1970-01-01, was a Thursday. */
const char *date_weekday(const char *text)
{
    static const char *const names[] = {"Thursday", "Friday",  "Saturday", "Sunday",
                                        "Monday",   "Tuesday", "Wednesday"};
    return names[(date_days(text) % 7 + 7) % 7];
}

/* Days as people write them. */

/* A part of a date: a number, or a month by its name. */
struct part {
    int number;
    int digits; /* 0 = a name */
};

enum { PARTS = 3, DIGITS_MOST = 8 };

/* "Jun" and "June", in any letters; 0 = no month. */
static int month_named(const char *name, size_t length)
{
    static const char *const months[] = {"january",   "february", "march",    "april",
                                         "may",       "june",     "july",     "august",
                                         "september", "october",  "november", "december"};
    char start[10];
    for (int i = 0; i < 12; i++) {
        text_copy(start, length < sizeof start ? length + 1 : sizeof start, months[i]);
        if (length >= 3 && utf8_same_letters(name, length, start))
            return i + 1;
    }
    return 0;
}

static bool read_part(const char **text, struct part *ret)
{
    size_t length = strspn(*text, "0123456789");
    if (length > DIGITS_MOST)
        return false;
    if (length > 0) {
        *ret = (struct part){digits(*text, (int)length), (int)length};
    } else {
        length = strcspn(*text, " ./-,0123456789");
        *ret = (struct part){month_named(*text, length), 0};
    }
    *text += length;
    return ret->digits > 0 || ret->number > 0;
}

/* How many parts there are; 0 where something is none. */
static int read_parts(const char *text, struct part parts[PARTS])
{
    int count = 0;
    for (; *text != '\0'; text += strspn(text, " ./-,"))
        if (count == PARTS || !read_part(&text, &parts[count++]))
            return 0;
    return count;
}

/* Which of two parts is the day; false where neither can be a day beside the other as month. */
static bool day_and_month(struct part first, struct part second, int *ret_day, int *ret_month)
{
    bool month_first =
        first.digits == 0 || (second.digits != 0 && second.number > 12 && first.number <= 12);
    struct part day = month_first ? second : first;
    *ret_day = day.number;
    *ret_month = month_first ? first.number : second.number;
    return day.digits == 1 || day.digits == 2;
}

static bool year_of(struct part part, int *ret_year)
{
    *ret_year = part.digits == 2 ? 2000 + part.number : part.number;
    return part.digits == 2 || part.digits == 4;
}

/* `*ret_year` stays 0 where there is none. */
static bool arrange(const struct part *parts, int count, int *ret_year, int *ret_month,
                    int *ret_day)
{
    *ret_year = 0;
    if (count == 1 && parts[0].digits == DIGITS_MOST) {
        *ret_year = parts[0].number / 10000;
        *ret_month = parts[0].number / 100 % 100;
        *ret_day = parts[0].number % 100;
        return true;
    }
    if (count == PARTS && parts[0].digits == 4) {
        *ret_year = parts[0].number;
        *ret_month = parts[1].number;
        *ret_day = parts[2].number;
        return parts[1].digits <= 2 && (parts[2].digits == 1 || parts[2].digits == 2);
    }
    return (count == 2 || (count == PARTS && year_of(parts[2], ret_year))) &&
           day_and_month(parts[0], parts[1], ret_day, ret_month);
}

static bool write_day(int year, int month, int day, char ret_day[DATE_SIZE])
{
    char text[48];
    snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
    if (!date_valid(text))
        return false;
    memcpy(ret_day, text, DATE_SIZE);
    return true;
}

/* A leap day may be eight years back. */
static bool latest_day(int month, int day, const char *today, char ret_day[DATE_SIZE])
{
    char found[DATE_SIZE];
    int year = date_year(today);
    for (int back = 0; back <= 8; back++)
        if (write_day(year - back, month, day, found) && strcmp(found, today) <= 0) {
            memcpy(ret_day, found, DATE_SIZE);
            return true;
        }
    return false;
}

/* "today", "yesterday", "-2". */
static bool days_ago(const char *text, int *ret_days)
{
    int64_t days;
    if (utf8_same_letters(text, strlen(text), "today"))
        *ret_days = 0;
    else if (utf8_same_letters(text, strlen(text), "yesterday"))
        *ret_days = 1;
    else if (text[0] == '-' && number_whole(text + 1, 0, 9999, &days))
        *ret_days = (int)days;
    else
        return false;
    return true;
}

bool date_typed(const char *text, const char *today, char ret_day[DATE_SIZE], struct err *err)
{
    char typed[64];
    struct part parts[PARTS];
    int days, year, month, day;
    text_trim(text_copy(typed, sizeof typed, text));
    if (days_ago(typed, &days)) {
        date_text(date_days(today) - days, ret_day);
        return true;
    }
    if (!arrange(parts, read_parts(typed, parts), &year, &month, &day))
        return err_set(err, ERR_INPUT,
                       "Enter a date such as 14.6.26, 14/6, today or -2 (two days ago).");
    bool found =
        year != 0 ? write_day(year, month, day, ret_day) : latest_day(month, day, today, ret_day);
    return found || err_set(err, ERR_INPUT, "The calendar has no day \"%s\".", typed);
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
