/* Scores, thresholds and shares decide a fish, so they are read, written and compared exactly, as
 * whole numbers of hundredths or millionths and as fractions: a tie is a tie on every machine.
 *
 * Parsing is stricter than strtol(): no blanks, no plus sign, no hexadecimal, nothing behind the
 * number. A file in which a column slipped is then refused instead of being read as other
 * numbers. What is typed is another matter: the screen shows at once how it was understood. */
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

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

/* Numbers as people write them. */

/* The digits of a number and what stands between and behind them. */
struct typed_number {
    char digits[NUMBER_SIZE]; /* all of them */
    size_t leading, last;     /* how many stand before the first separator and behind the last */
    int separators;
    bool threes;    /* behind every separator stand three digits */
    char separator; /* the one there is */
    int zeros;      /* 3 for k, 6 for M */
};

static bool read_unit(const char *text, int *ret_zeros)
{
    text += *text == ' ';
    *ret_zeros = *text == 'k' || *text == 'K' ? 3 : *text == 'm' || *text == 'M' ? 6 : 0;
    return text[*ret_zeros > 0] == '\0';
}

static bool read_typed(const char *text, struct typed_number *ret)
{
    size_t length = strspn(text, "0123456789"), used = 0;
    *ret = (struct typed_number){.leading = length, .threes = true};
    while (length > 0) {
        if (used + length >= sizeof ret->digits)
            return false;
        memcpy(ret->digits + used, text, length);
        used += length;
        text += length;
        ret->last = length;
        if (strchr(" .,'", *text) == NULL || !is_digit(text[*text != '\0']))
            return read_unit(text, &ret->zeros);
        if (ret->separators++ > 0 && *text != ret->separator)
            return false;
        ret->separator = *text++;
        length = strspn(text, "0123456789");
        ret->threes = ret->threes && length == 3;
    }
    return false;
}

/* Do the separators make groups of three? Only of a number that a zero does not begin. */
static bool in_groups(const struct typed_number *typed)
{
    return typed->separators > 0 && typed->threes && typed->leading <= 3 && typed->digits[0] != '0';
}

static bool has_decimals(const struct typed_number *typed)
{
    return typed->separators == 1 && strchr(".,", typed->separator) != NULL && typed->zeros > 0 &&
           typed->last <= (size_t)typed->zeros;
}

/* 1.500k is a thousand and a half, or a million and a half. */
static bool read_two_ways(const struct typed_number *typed)
{
    return in_groups(typed) && has_decimals(typed);
}

bool number_typed(const char *text, int64_t lowest, int64_t highest, int64_t *ret_number,
                  struct err *err)
{
    char trimmed[2 * NUMBER_SIZE];
    struct typed_number typed;
    text_trim(text_copy(trimmed, sizeof trimmed, text));
    bool right = read_typed(trimmed, &typed);
    if (right && read_two_ways(&typed))
        return err_set(err, ERR_INPUT, "\"%s\" can be read in two ways; write out all its zeros.",
                       trimmed);
    bool decimals = right && !in_groups(&typed) && has_decimals(&typed);
    right = right && (typed.separators == 0 || in_groups(&typed) || decimals);
    int64_t number = 0;
    for (const char *digit = typed.digits; right && *digit != '\0'; digit++)
        right = push_digit(&number, *digit - '0');
    for (int zeros = right ? typed.zeros - (decimals ? (int)typed.last : 0) : 0; zeros > 0; zeros--)
        right = right && push_digit(&number, 0);
    if (!right || number < lowest || number > highest)
        return err_set(err, ERR_INPUT,
                       "A whole number from %" PRId64 " to %" PRId64 " is expected, not \"%s\".",
                       lowest, highest, trimmed);
    *ret_number = number;
    return true;
}

void number_grouped(int64_t number, char ret_text[NUMBER_SIZE])
{
    char digits[NUMBER_SIZE];
    int length = snprintf(digits, sizeof digits, "%" PRId64, number), used = 0;
    int first = number < 0; /* where the digits begin */
    bool grouped = length - first > 4;
    for (int i = 0; i < length; i++) {
        if (grouped && i > first && (length - i) % 3 == 0)
            ret_text[used++] = ' ';
        ret_text[used++] = digits[i];
    }
    ret_text[used] = '\0';
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

/* Writes the digits of a number and returns where they end. */
static char *put_digits(char *text, uint64_t number)
{
    char digits[NUMBER_SIZE];
    size_t count = 0;
    do
        digits[count++] = (char)('0' + number % 10);
    while ((number /= 10) > 0);
    while (count > 0)
        *text++ = digits[--count];
    return text;
}

void number_to_tenth(int64_t numerator, int64_t denominator, char ret_text[NUMBER_SIZE])
{
    uint64_t divisor = (uint64_t)denominator;
    uint64_t magnitude = numerator < 0 ? -(uint64_t)numerator : (uint64_t)numerator;
    uint64_t whole = magnitude / divisor;
    unsigned tenths = rounded_tenths(magnitude % divisor, divisor);
    whole += tenths / 10;
    tenths %= 10;
    if (numerator < 0 && (whole > 0 || tenths > 0))
        *ret_text++ = '-';
    ret_text = put_digits(ret_text, whole);
    *ret_text++ = '.';
    *ret_text++ = (char)('0' + tenths);
    *ret_text = '\0';
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
