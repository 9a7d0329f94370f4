#include "senbetsu/report/sample_text.h"

#include "senbetsu/base/number.h"
#include "senbetsu/core/count.h"

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
