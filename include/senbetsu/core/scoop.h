/* The size of a scoop: how many fish it holds, found by counting the fish of one or more scoops. */
#ifndef SENBETSU_CORE_SCOOP_H
#define SENBETSU_CORE_SCOOP_H

#include <stdbool.h>
#include <stdint.h>

enum { SCOOP_SAMPLES = 20, SCOOP_MOST = 99999 };

struct scoop {
    int64_t id;      /* given by the ledger; 0 = none was measured */
    int64_t fish;    /* counted in all samples */
    int64_t squares; /* sum of the squares of the samples */
    int samples;     /* scoops counted, 1 to SCOOP_SAMPLES */
};

/* Sums up `count` samples. False where one is not within 1..SCOOP_MOST, or where there is none or
 * more than SCOOP_SAMPLES. */
bool scoop_measure(const int64_t *samples, int count, struct scoop *ret);

/* The fish of so many scoops, to the nearest whole fish: the mean is the sum of the fish over the
 * sum of the scoops. */
int64_t scoop_fish(const struct scoop *scoop, int64_t scoops);

/* The relative standard error of the mean in millionths: s / (mean · √samples), where s has
 * samples − 1 in its denominator; at most 1. 0 = not known, because one scoop alone says nothing of
 * it; scoops of exactly the same number have the least error that can be told, one millionth. */
int scoop_cv(const struct scoop *scoop);

#endif
