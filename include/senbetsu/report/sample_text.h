/* Samples and measures as they are typed. */
#ifndef SENBETSU_REPORT_SAMPLE_TEXT_H
#define SENBETSU_REPORT_SAMPLE_TEXT_H

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

#endif
