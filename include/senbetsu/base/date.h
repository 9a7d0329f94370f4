/* Days, instants and the clock. The ledger keeps days as ISO 8601 text and instants as milliseconds
 * since 1970-01-01 UTC; the local time of day is only ever a way to show one. */
#ifndef SENBETSU_BASE_DATE_H
#define SENBETSU_BASE_DATE_H

#include "senbetsu/base/err.h"

#include <stdbool.h>
#include <stdint.h>

enum { DATE_SIZE = 11, TIME_OF_DAY_SIZE = 6 };

/* "2026-06-14" and nothing else: four digits, a real month and a real day, years 1900 to 2199. */
bool date_valid(const char *text);

/* Days from 1970-01-01 (negative before); the text must be valid. Algorithm: proleptic Gregorian
 * calendar, counted from 1 March. */
int date_days(const char *text);

/* The reverse. */
void date_text(int days, char ret_text[DATE_SIZE]);

/* The calendar year of a valid date. */
int date_year(const char *text);

/* "Sunday", of a valid date. */
const char *date_weekday(const char *text);

/* A day as people write one, `today` being a valid date: "today", "yesterday", "-2" (two days ago),
 * "2026-06-14", "14.6.26", "14.6.", "14/6", "14 6", "14 June 2026". Parts stand apart by any of
 * ". / - ," and blanks; four digits in front are the year, as are eight in one piece (20260614).
 *
 * The day stands before the month wherever both readings are possible (4/6 is 4 June); a second
 * number above 12 can only be the day (6/14 is 14 June). A year of two digits is of this century.
 * Without a year it is the latest such day that is not after today. False with a sentence where
 * nothing can be made of it, or where the calendar has no such day. */
bool date_typed(const char *text, const char *today, char ret_day[DATE_SIZE], struct err *err);

/* The instant at which a valid date begins, and how long a day is; the reverse of the following. */
enum { DAY_MS = 24 * 60 * 60 * 1000 };
int64_t date_begins(const char *text, int offset_minutes);

/* The day and the time of day ("08:41") of an instant, `offset_minutes` east of UTC. */
void date_of_instant(int64_t ms, int offset_minutes, char ret_text[DATE_SIZE]);
void time_of_instant(int64_t ms, int offset_minutes, char ret_text[TIME_OF_DAY_SIZE]);

/* The time of day comes in from outside, so that everything below the command line can be tested
 * at any hour. */
struct clock {
    int64_t (*now_ms)(void *context); /* milliseconds since 1970-01-01 UTC */
    void *context;
    int offset_minutes; /* local time, east of UTC */
};

int64_t clock_now(const struct clock *clock);

/* Today, in local time. */
void clock_today(const struct clock *clock, char ret_day[DATE_SIZE]);

/* A clock that shows `*ms`; a test moves it by changing `*ms`. */
struct clock clock_fixed(int64_t *ms);

#endif
