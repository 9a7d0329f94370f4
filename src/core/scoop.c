#include "senbetsu/core/scoop.h"
#include "senbetsu/base/number.h"
#include "senbetsu/core/count.h"

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

int64_t scoop_fish(const struct scoop *scoop, int64_t scoops)
{
    int64_t samples = scoop->samples;
    return (2 * scoops * scoop->fish + samples) / (2 * samples);
}

/* Exact: the square of what is sought is a fraction of whole numbers, and the answer is the last
 * millionth whose lower half-way mark is not above it. */
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
