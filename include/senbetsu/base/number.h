/* Exact numbers: whole ones, and decimals kept as whole hundredths or millionths.
 *
 * No function here uses floating point or the locale: a decimal point is a point everywhere. */
#ifndef SENBETSU_BASE_NUMBER_H
#define SENBETSU_BASE_NUMBER_H

#include "senbetsu/base/err.h"

#include <stdbool.h>
#include <stdint.h>

enum { NUMBER_SIZE = 32 };

/* Decimal digits only (one leading '-' where `lowest` is negative), no blanks, no sign "+", within
 * lowest..highest. `*ret_number` is untouched on false. */
bool number_whole(const char *text, int64_t lowest, int64_t highest, int64_t *ret_number);

/* A whole number >= 0 as people write one: "120000", in groups of three with blanks, points, commas
 * or apostrophes ("120 000", "1.200.000"), in thousands or millions ("120k", "1.5k", "0,3M"). False
 * with a sentence where it is none, lies outside, or can be read in two ways ("1.500k"). */
bool number_typed(const char *text, int64_t lowest, int64_t highest, int64_t *ret_number,
                  struct err *err);

/* As it is read best: "120 000", in groups from five digits on. */
void number_grouped(int64_t number, char ret_text[NUMBER_SIZE]);

/* "65", "62.5" or "62.25": at most two decimals, within lowest..highest (both in hundredths). */
bool number_hundredths(const char *text, int lowest, int highest, int *ret_hundredths);

/* "65", "62.5", "62.25": the shortest form. */
void number_from_hundredths(int hundredths, char ret_text[NUMBER_SIZE]);

/* The same with at most six decimals, in millionths: "0.05" is 50000. */
bool number_millionths(const char *text, int lowest, int highest, int *ret_millionths);
void number_from_millionths(int millionths, char ret_text[NUMBER_SIZE]);

/* numerator/denominator (denominator > 0) with one decimal, half away from zero: 1/20 → "0.1",
 * -1/20 → "-0.1". */
void number_to_tenth(int64_t numerator, int64_t denominator, char ret_text[NUMBER_SIZE]);

/* -1, 0 or 1 as a/b is less than, equal to or greater than c/d (b, d > 0), exact: no overflow for
 * any 64-bit operands. */
int number_compare_fractions(int64_t a, int64_t b, int64_t c, int64_t d);

#endif
