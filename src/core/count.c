#include "senbetsu/core/count.h"
#include "senbetsu/base/text.h"

#include <string.h>

void round_counts_init(struct round_counts *counts)
{
    *counts = (struct round_counts){.in.number = NOT_COUNTED,
                                    .kept.number = NOT_COUNTED,
                                    .rejected = NOT_COUNTED,
                                    .dead = NOT_COUNTED};
}

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

static void apply_number(int64_t *known, int64_t said)
{
    if (said != NOT_COUNTED)
        *known = said;
}

void round_counts_apply(struct round_counts *known, const struct round_counts *said)
{
    count_apply(&known->in, &said->in);
    count_apply(&known->kept, &said->kept);
    apply_number(&known->rejected, said->rejected);
    apply_number(&known->dead, said->dead);
    if (said->day[0] != '\0')
        text_copy(known->day, sizeof known->day, said->day);
    if (said->note[0] != '\0')
        text_copy(known->note, sizeof known->note, said->note);
}

static bool count_equal(const struct count *a, const struct count *b)
{
    return a->number == b->number && a->method == b->method && a->cv == b->cv;
}

bool round_counts_whole(const struct round_counts *counts)
{
    return counts->in.number != NOT_COUNTED && counts->kept.number != NOT_COUNTED;
}

int64_t round_counts_rejected(const struct round_counts *counts)
{
    if (counts->rejected != NOT_COUNTED || !round_counts_whole(counts))
        return counts->rejected;
    int64_t dead = counts->dead == NOT_COUNTED ? 0 : counts->dead;
    int64_t left = counts->in.number - counts->kept.number - dead;
    return left > 0 ? left : 0;
}

bool round_counts_equal(const struct round_counts *a, const struct round_counts *b)
{
    return count_equal(&a->in, &b->in) && count_equal(&a->kept, &b->kept) &&
           a->rejected == b->rejected && a->dead == b->dead && strcmp(a->day, b->day) == 0 &&
           strcmp(a->note, b->note) == 0;
}

bool count_check(const struct count *count, struct err *err)
{
    if (count->number == NOT_COUNTED && (count->method != METHOD_UNSAID || count->cv != 0))
        return err_set(err, ERR_INPUT, "There is no number that this could belong to.");
    if (count->method == METHOD_COUNTED && count->cv != 0)
        return err_set(err, ERR_INPUT,
                       "Fish that were counted have no error; say how they were estimated.");
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

/* What a part's error is of a whole, in millionths of the whole. */
static int64_t share_of_error(const struct count *part, int64_t whole)
{
    int64_t share = whole > 0 ? (part->number * part->cv + whole / 2) / whole : CV_ONE;
    return share < CV_ONE ? share : CV_ONE;
}

/* The error of a whole that is the sum or the difference of two independent numbers; one that is
 * known never becomes 0, which would say that it is not. */
static int error_together(const struct count *a, const struct count *b, int64_t whole)
{
    int64_t one = share_of_error(a, whole), other = share_of_error(b, whole);
    int64_t both = root(one * one + other * other);
    return (int)(both < 1 ? 1 : both < CV_ONE ? both : CV_ONE);
}

static bool is_exact(const struct count *count)
{
    return count->method == METHOD_COUNTED || count->number == 0;
}

static bool error_is_known(const struct count *count)
{
    return is_exact(count) || count->cv > 0;
}

struct count count_together(const struct count *a, const struct count *b, int64_t number)
{
    struct count result = {number,
                           is_exact(a) ? is_exact(b) ? METHOD_COUNTED : b->method : a->method, 0};
    if (result.method != METHOD_COUNTED && error_is_known(a) && error_is_known(b))
        result.cv = error_together(a, b, number);
    return result;
}
