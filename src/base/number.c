/* Scores, thresholds and shares decide a fish, so they are read, written and compared exactly, as
 * whole numbers of hundredths or millionths and as fractions: a tie is a tie on every machine.
 *
 * Parsing is stricter than strtol(): no blanks, no plus sign, no hexadecimal, nothing behind the
 * number. A file in which a column slipped is then refused instead of being read as other
 * numbers. */
#include "senbetsu/base/number.h"

#include <inttypes.h>
#include <stdio.h>

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* One more decimal digit at the end; false if that leaves the 64 bits. */
static bool push_digit(int64_t *number, int digit)
{
    if (*number > (INT64_MAX - digit) / 10)
        return false;
    *number = *number * 10 + digit;
    return true;
}

bool number_whole(const char *text, int64_t lowest, int64_t highest, int64_t *ret_number)
{
    bool negative = lowest < 0 && *text == '-';
    if (negative)
        text++;
    if (!is_digit(*text))
        return false;
    int64_t number = 0;
    for (; is_digit(*text); text++)
        if (!push_digit(&number, *text - '0'))
            return false;
    if (negative)
        number = -number;
    if (*text != '\0' || number < lowest || number > highest)
        return false;
    *ret_number = number;
    return true;
}

/* A decimal number in units of 10^-decimals. */
static bool read_decimal(const char *text, int decimals, int64_t lowest, int64_t highest,
                         int *ret_units)
{
    if (!is_digit(*text))
        return false;
    int64_t number = 0;
    for (; is_digit(*text); text++)
        if (!push_digit(&number, *text - '0'))
            return false;
    if (*text == '.' && !is_digit(*++text))
        return false;
    for (int i = 0; i < decimals; i++)
        if (!push_digit(&number, is_digit(*text) ? *text++ - '0' : 0))
            return false;
    if (*text != '\0' || number < lowest || number > highest)
        return false;
    *ret_units = (int)number;
    return true;
}

/* The shortest form. */
static void write_decimal(int units, int decimals, char ret_text[NUMBER_SIZE])
{
    int64_t magnitude = units < 0 ? -(int64_t)units : units;
    int64_t one = 1;
    for (int i = 0; i < decimals; i++)
        one *= 10;
    int64_t rest = magnitude % one;
    for (; decimals > 0 && rest % 10 == 0; decimals--)
        rest /= 10;
    int length =
        snprintf(ret_text, NUMBER_SIZE, "%s%" PRId64, units < 0 ? "-" : "", magnitude / one);
    if (decimals > 0)
        snprintf(ret_text + length, NUMBER_SIZE - (size_t)length, ".%0*" PRId64, decimals, rest);
}

bool number_hundredths(const char *text, int lowest, int highest, int *ret_hundredths)
{
    return read_decimal(text, 2, lowest, highest, ret_hundredths);
}

void number_from_hundredths(int hundredths, char ret_text[NUMBER_SIZE])
{
    write_decimal(hundredths, 2, ret_text);
}

bool number_millionths(const char *text, int lowest, int highest, int *ret_millionths)
{
    return read_decimal(text, 6, lowest, highest, ret_millionths);
}

void number_from_millionths(int millionths, char ret_text[NUMBER_SIZE])
{
    write_decimal(millionths, 6, ret_text);
}

/* The tenths in rest/denominator, rounded, by adding up instead of multiplying: nothing here can
 * leave the 64 bits. */
static unsigned rounded_tenths(uint64_t rest, uint64_t denominator)
{
    unsigned tenths = 0;
    uint64_t sum = 0;
    for (int i = 0; i < 10; i++) {
        sum += rest;
        if (sum >= denominator) {
            sum -= denominator;
            tenths++;
        }
    }
    return sum >= denominator - sum ? tenths + 1 : tenths;
}

void number_to_tenth(int64_t numerator, int64_t denominator, char ret_text[NUMBER_SIZE])
{
    uint64_t divisor = (uint64_t)denominator;
    uint64_t magnitude = numerator < 0 ? -(uint64_t)numerator : (uint64_t)numerator;
    uint64_t whole = magnitude / divisor;
    unsigned tenths = rounded_tenths(magnitude % divisor, divisor);
    whole += tenths / 10;
    tenths %= 10;
    const char *sign = numerator < 0 && (whole > 0 || tenths > 0) ? "-" : "";
    snprintf(ret_text, NUMBER_SIZE, "%s%" PRIu64 ".%u", sign, whole, tenths);
}

/* The whole part, downward, and what is left of a fraction: 0 <= rest < denominator. */
static int64_t split(int64_t numerator, int64_t denominator, int64_t *ret_rest)
{
    int64_t whole = numerator / denominator, rest = numerator % denominator;
    if (rest < 0) {
        rest += denominator;
        whole--;
    }
    *ret_rest = rest;
    return whole;
}

/* Compares term by term as continued fractions: cross products would not fit. Equal whole parts
 * leave two rests; the greater rest has the smaller reciprocal, so the sides change places. */
int number_compare_fractions(int64_t a, int64_t b, int64_t c, int64_t d)
{
    for (;;) {
        int64_t rest_left, rest_right;
        int64_t left = split(a, b, &rest_left), right = split(c, d, &rest_right);
        if (left != right)
            return left < right ? -1 : 1;
        if (rest_left == 0 || rest_right == 0)
            return (rest_left > 0) - (rest_right > 0);
        a = d;
        c = b;
        b = rest_right;
        d = rest_left;
    }
}
