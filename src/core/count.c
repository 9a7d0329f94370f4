/* Numbers of fish and how sure they are. An error is a coefficient of variation in whole
 * millionths, and all arithmetic is on whole numbers, so that a number comes out the same on every
 * machine. Independent errors, in fish, add up as squares: the usual propagation of uncertainty for
 * sums and differences. */
#include "senbetsu/core/count.h"
#include "senbetsu/base/number.h"

#include <inttypes.h>
#include <stdio.h>

void count_apply(struct count *known, const struct count *said)
{
    if (said->number == NOT_COUNTED)
        return;
    struct count before = *known;
    *known = *said;
    if (said->number != before.number)
        return;
    if (said->method == METHOD_UNSAID && (said->cv == 0 || before.method != METHOD_COUNTED))
        known->method = before.method;
    if (said->cv == 0 && known->method == before.method)
        known->cv = before.cv;
}

bool count_equal(const struct count *a, const struct count *b)
{
    return a->number == b->number && a->method == b->method && a->cv == b->cv;
}

bool count_check(const struct count *count, struct err *err)
{
    if (count->number == NOT_COUNTED && (count->method != METHOD_UNSAID || count->cv != 0))
        return err_set(err, ERR_INPUT, "Enter the number first.");
    if (count->method == METHOD_COUNTED && count->cv != 0)
        return err_set(
            err, ERR_INPUT,
            "Counted fish have no error; choose another method or leave the error empty.");
    return true;
}

bool count_is_estimate(const struct count *count)
{
    return count->number > 0 && count->method > METHOD_COUNTED;
}

bool count_error_unknown(const struct count *count)
{
    return count_is_estimate(count) && count->cv == 0;
}

bool count_is_exact(const struct count *count)
{
    return count->number != NOT_COUNTED && count->cv == 0 && !count_error_unknown(count);
}

/* The square root to the nearest whole number. */
static int64_t root(int64_t square)
{
    int64_t low = 0, high = 2 * (int64_t)CV_ONE;
    while (low < high) {
        int64_t middle = (low + high + 1) / 2;
        if (middle * middle <= square)
            low = middle;
        else
            high = middle - 1;
    }
    return square - low * low > low ? low + 1 : low;
}

const char *count_text(const struct count *count, char ret_text[COUNT_TEXT_SIZE])
{
    char percent[NUMBER_SIZE];
    const char *about = count_error_unknown(count) ? "about " : "";
    int length = snprintf(ret_text, COUNT_TEXT_SIZE, "%s%" PRId64, about, count->number);
    if (count->cv > 0) {
        number_to_tenth(count->cv, CV_ONE / 100, percent);
        snprintf(ret_text + length, COUNT_TEXT_SIZE - (size_t)length, " ±%s %%", percent);
    }
    return ret_text;
}

/* The error of a part, in millionths of the whole. */
static int64_t share_of_error(const struct count *part, int64_t whole)
{
    int64_t share = whole > 0 ? (part->number * part->cv + whole / 2) / whole : CV_ONE;
    return share < CV_ONE ? share : CV_ONE;
}

/* The error of a whole that is the sum or the difference of two independent numbers; a known error
 * never becomes 0, which would mean unknown. */
static int error_together(const struct count *a, const struct count *b, int64_t whole)
{
    int64_t one = share_of_error(a, whole), other = share_of_error(b, whole);
    int64_t both = root(one * one + other * other);
    return (int)(both < 1 ? 1 : both < CV_ONE ? both : CV_ONE);
}

/* Has no error of its own to add to a sum. */
static bool is_without_error(const struct count *count)
{
    return count->method == METHOD_COUNTED || count->number == 0;
}

static bool error_is_known(const struct count *count)
{
    return is_without_error(count) || count->cv > 0;
}

struct count count_together(const struct count *a, const struct count *b, int64_t number)
{
    struct count result = {
        number, is_without_error(a) ? is_without_error(b) ? METHOD_COUNTED : b->method : a->method,
        0};
    if (result.method != METHOD_COUNTED && error_is_known(a) && error_is_known(b))
        result.cv = error_together(a, b, number);
    return result;
}

bool scoop_measure(const int64_t *samples, int count, struct scoop *ret)
{
    struct scoop scoop = {.samples = count};
    if (count < 1 || count > SCOOP_SAMPLES)
        return false;
    for (int i = 0; i < count; i++) {
        if (samples[i] < 1 || samples[i] > SCOOP_MOST)
            return false;
        scoop.fish += samples[i];
        scoop.squares += samples[i] * samples[i];
    }
    *ret = scoop;
    return true;
}

bool scoop_possible(const struct scoop *scoop)
{
    int64_t samples = scoop->samples, fish = scoop->fish;
    return samples >= 1 && samples <= SCOOP_SAMPLES && fish >= samples &&
           fish <= samples * SCOOP_MOST && scoop->squares >= fish &&
           scoop->squares <= fish * SCOOP_MOST && samples * scoop->squares >= fish * fish;
}

int64_t scoop_fish(const struct scoop *scoop, int64_t scoops)
{
    int64_t samples = scoop->samples;
    return (2 * scoops * scoop->fish + samples) / (2 * samples);
}

/* Exact: the square of the result is a fraction of whole numbers, and the result is rounded to the
 * nearest millionth by comparing with the half-way mark below it. */
int scoop_cv(const struct scoop *scoop)
{
    const int64_t whole = 4 * (int64_t)CV_ONE * CV_ONE;
    if (scoop->samples < 2)
        return 0;
    int64_t variance = scoop->samples * scoop->squares - scoop->fish * scoop->fish;
    int64_t square = (scoop->samples - 1) * scoop->fish * scoop->fish;
    int64_t low = 1, high = CV_ONE;
    while (low < high) {
        int64_t middle = (low + high + 1) / 2, mark = 2 * middle - 1;
        if (number_compare_fractions(mark * mark, whole, variance, square) <= 0)
            low = middle;
        else
            high = middle - 1;
    }
    return (int)low;
}
