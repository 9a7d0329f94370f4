/* Samples and measures as they are typed, and the number of fish that they give. */
#ifndef SENBETSU_REPORT_SAMPLES_H
#define SENBETSU_REPORT_SAMPLES_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/count.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/stats/counting.h"

#include <stdbool.h>

/* "316.8": over 0, at most 1000000000, digits with or without a decimal point. `*ret_measure` is
 * untouched on false. */
bool measure_from_text(const char *text, double *ret_measure);

/* "200:10.5", 200 fish that measure 10.5, or "480", a scoop of 480: its measure is 1, and
 * `*ret_measured` false. Whole fish, at most FISH_MOST. Nothing is set on false. */
bool sample_from_text(const char *text, struct sample *ret, bool *ret_measured);

enum { LINE_SAMPLES = 100 };

/* Several samples in a line as a keypad types them: "36:1.5 35:1.6" or "36/1.5+35/1.6", or scoops,
 * "480 530" or "480+530"; blanks, '+' and ';' stand between them. Returns how many there are; 0
 * where one is none, where samples and scoops are mixed, or where there are more than LINE_SAMPLES;
 * `*ret_measured` is then as it was. */
int samples_from_text(const char *text, struct sample ret_samples[LINE_SAMPLES],
                      bool *ret_measured);

struct count_result {
    enum method method; /* weighed, displaced or scooped */
    const struct sample *samples;
    int sample_count;
    double total; /* what all fish weigh or displace, or how many scoops they are */
    struct counting counting;
    double within; /* the precision wanted, 0.05 = 5 % to either side; 0 = not asked */
    /* Of fish that were weighed; 0 = not said. */
    double length_mm; /* of one fish, on average; the weights are then in grams */
    double before;    /* what one weighed … */
    int64_t days;     /* … so many days ago */
};

struct count_entry {
    enum method method;  /* weighed, displaced or scooped */
    const char *samples; /* "36:1.5 35:1.6", of scoops "480 530", as samples_from_text takes them */
    const char *total;   /* what all fish weigh or displace, or how many scoops they are */
    const char *within;  /* wanted precision in per cent, "" = not asked */
};

enum count_line { COUNT_SAMPLES, COUNT_TOTAL, COUNT_WITHIN };

/* False with a sentence on what was expected, and the line that it stands under. `samples` must
 * outlive the result. */
bool count_from_entry(const struct count_entry *entry, struct sample samples[LINE_SAMPLES],
                      struct count_result *ret, enum count_line *ret_wrong, struct err *err);

/* The result as a number that is stated of a round: to the nearest fish, with how it was made and
 * its cv, which is 0 where it has no interval; counted where every scoop was. False where there are
 * no fish in it or more than a round can have. */
bool count_to_state(const struct count_result *result, struct count *ret, struct err *err);

#endif
