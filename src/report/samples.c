/* Reads samples as they are typed, on the command line or on a form, and counts the fish by them;
 * the statistics are stats/counting.h.
 *
 * Blanks, plus signs and semicolons all separate samples, since people write lists in each of these
 * ways; but all samples of a line have a measure or none has, since a mixture is a typing error. */
#include "senbetsu/report/samples.h"
#include "senbetsu/base/number.h"
#include "senbetsu/core/count.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool measure_from_text(const char *text, double *ret_measure)
{
    static const char digits[] = "0123456789";
    enum { LONGEST = 24, MOST = 1000000000 };
    size_t whole = strspn(text, digits);
    size_t end = whole;
    if (text[whole] == '.')
        end += 1 + strspn(text + whole + 1, digits);
    if (whole == 0 || end == whole + 1 || end > LONGEST || text[end] != '\0')
        return false;
    double measure = strtod(text, NULL);
    if (measure <= 0 || measure > MOST)
        return false;
    *ret_measure = measure;
    return true;
}

bool sample_from_text(const char *text, struct sample *ret, bool *ret_measured)
{
    char fish[NUMBER_SIZE] = "";
    struct sample sample = {.measure = 1};
    size_t length = strcspn(text, ":");
    bool measured = text[length] == ':';
    if (length >= sizeof fish)
        return false;
    memcpy(fish, text, length);
    if (!number_whole(fish, 0, FISH_MOST, &sample.fish))
        return false;
    if (measured && !measure_from_text(text + length + 1, &sample.measure))
        return false;
    *ret = sample;
    *ret_measured = measured;
    return true;
}

/* The sample at the start of a line, which ends where `length` says. */
static bool sample_at(const char *text, size_t length, struct sample *ret, bool *ret_measured)
{
    char part[2 * NUMBER_SIZE];
    if (length >= sizeof part)
        return false;
    memcpy(part, text, length);
    part[length] = '\0';
    char *slash = strchr(part, '/');
    if (slash != NULL)
        *slash = ':';
    return sample_from_text(part, ret, ret_measured);
}

int samples_from_text(const char *text, struct sample ret_samples[LINE_SAMPLES], bool *ret_measured)
{
    static const char between[] = " +;";
    bool measured = false;
    int count = 0;
    for (text += strspn(text, between); *text != '\0'; text += strspn(text, between)) {
        size_t length = strcspn(text, between);
        bool measured_so_far = measured;
        if (count == LINE_SAMPLES || !sample_at(text, length, &ret_samples[count], &measured) ||
            (count > 0 && measured != measured_so_far))
            return 0;
        count++;
        text += length;
    }
    if (count > 0)
        *ret_measured = measured;
    return count;
}

static bool read_samples(const struct count_entry *entry, struct sample samples[LINE_SAMPLES],
                         struct count_result *result, struct err *err)
{
    bool measured = false, scooped = entry->method == METHOD_SCOOPED;
    result->samples = samples;
    result->sample_count = samples_from_text(entry->samples, samples, &measured);
    if (result->sample_count > 0 && measured != scooped)
        return true;
    if (scooped)
        return err_set(err, ERR_INPUT,
                       "Enter the fish of each scoop, such as 480+530, up to %d scoops.",
                       LINE_SAMPLES);
    return err_set(err, ERR_INPUT,
                   "Enter fish:%s of each sample, such as 36/1.5+35/1.6, up to %d samples.",
                   entry->method == METHOD_WEIGHED ? "weight" : "water", LINE_SAMPLES);
}

static bool count_scoops(const struct count_entry *entry, struct count_result *result,
                         struct err *err)
{
    int64_t scoops;
    if (!number_whole(entry->total, result->sample_count, FISH_MOST, &scoops))
        return err_set(err, ERR_INPUT,
                       "Enter the number of all scoops, the %d counted ones included.",
                       result->sample_count);
    result->total = (double)scoops;
    result->counting = counting_scooped(result->samples, result->sample_count, scoops);
    return true;
}

static bool count_measured(const struct count_entry *entry, struct count_result *result,
                           struct err *err)
{
    if (!measure_from_text(entry->total, &result->total))
        return err_set(err, ERR_INPUT, "Enter what all fish %s, such as 316.8.",
                       entry->method == METHOD_WEIGHED ? "weigh" : "displace");
    result->counting = counting_measured(result->samples, result->sample_count, result->total);
    return true;
}

static bool count_all(const struct count_entry *entry, struct count_result *result, struct err *err)
{
    return entry->method == METHOD_SCOOPED ? count_scoops(entry, result, err)
                                           : count_measured(entry, result, err);
}

static bool read_within(const struct count_entry *entry, struct count_result *result,
                        struct err *err)
{
    double percent = 0;
    if (entry->within[0] != '\0' && !measure_from_text(entry->within, &percent))
        return err_set(err, ERR_INPUT, "Enter a percentage such as 5, not \"%s\".", entry->within);
    result->within = percent / 100;
    return true;
}

bool count_from_entry(const struct count_entry *entry, struct sample samples[LINE_SAMPLES],
                      struct count_result *ret, enum count_line *ret_wrong, struct err *err)
{
    static bool (*const steps[])(const struct count_entry *, struct count_result *,
                                 struct err *) = {
        [COUNT_TOTAL] = count_all, [COUNT_WITHIN] = read_within};
    struct count_result result = {.method = entry->method};
    enum count_line line = COUNT_SAMPLES;
    bool done = read_samples(entry, samples, &result, err);
    while (done && line < COUNT_WITHIN)
        done = steps[++line](entry, &result, err);
    if (done)
        *ret = result;
    else
        *ret_wrong = line;
    return done;
}

bool count_to_state(const struct count_result *result, struct count *ret, struct err *err)
{
    const struct counting *counting = &result->counting;
    struct count count = {.method = result->method};
    if (counting->number < 0.5)
        return err_set(err, ERR_INPUT, "There are no fish in the samples.");
    if (counting->number > FISH_MOST)
        return err_set(err, ERR_INPUT, "A round has at most %d fish.", FISH_MOST);
    count.number = llround(counting->number);
    if (counting->scoops == counting->samples)
        count.method = METHOD_COUNTED;
    else if (counting->has_interval) /* samples that are all alike leave the least error there is */
        count.cv = (int)fmin(fmax(round(counting->cv * CV_ONE), 1), CV_ONE);
    *ret = count;
    return true;
}
