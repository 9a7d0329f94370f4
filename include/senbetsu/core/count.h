/* A number of fish, the method that it was counted by and its error; and the size of a scoop.
 *
 * Fish are counted one by one or estimated by scoops, weight or water. A number without its method
 * and error invites conclusions it cannot carry, so the three always travel together. */
#ifndef SENBETSU_CORE_COUNT_H
#define SENBETSU_CORE_COUNT_H

#include "senbetsu/base/err.h"
#include "senbetsu/core/code.h"
#include "senbetsu/core/terms.h"

#include <stdbool.h>
#include <stdint.h>

enum { NOT_COUNTED = -1, FISH_MOST = 100000000, CV_ONE = 1000000 };

/* Bowls, and the fish in them, are numbered from 1 to this; no bowl is expected to hold more. */
enum { NUMBER_MOST = 999999 };

/* A number of fish with its coefficient of variation, the relative standard error of an estimate,
 * in millionths: 0.05 is 50000. 0 = not known, or none because they were counted. */
struct count {
    int64_t number; /* NOT_COUNTED = not known */
    enum method method;
    int cv;
};

/* Updates a known number with a newly stated one: a number replaces the one before, with its method
 * and error; the same number stated again without them keeps them. What is not stated stays. */
void count_apply(struct count *known, const struct count *said);

bool count_equal(const struct count *a, const struct count *b);

/* Is it consistent? An error needs an estimate, and both need a number. */
bool count_check(const struct count *count, struct err *err);

/* Was it counted by any other method than fish by fish? */
bool count_is_estimate(const struct count *count);

/* An estimate whose error nobody knows. */
bool count_error_unknown(const struct count *count);

/* A number that is known and, for all that is said, was counted fish by fish. */
bool count_is_exact(const struct count *count);

/* "1234", or "1234 ±2.5 %" of a number with a known error, "about 1234" of an estimate without one.
 */
enum { COUNT_TEXT_SIZE = 64 };
const char *count_text(const struct count *count, char ret_text[COUNT_TEXT_SIZE]);

/* `number`, the sum or the difference of two independent numbers, with how it was made and its
 * error: the errors, in fish, add up as squares. A number of fish that were counted, and none, add
 * nothing; the first of the others says how it was made. The error is not known where one of the
 * two is not. */
struct count count_together(const struct count *a, const struct count *b, int64_t number);

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

/* Can samples have added up to this? Their squares are the fewest where all are of one size. */
bool scoop_possible(const struct scoop *scoop);

/* The fish of so many scoops, to the nearest whole fish: the mean is the sum of the fish over the
 * sum of the scoops. */
int64_t scoop_fish(const struct scoop *scoop, int64_t scoops);

/* The relative standard error of the mean in millionths: s / (mean · √samples), where s has samples
 * − 1 in its denominator; at most 1. 0 = not known, because a single scoop shows no variation;
 * scoops of exactly the same number get the smallest error that can be stored, one millionth. */
int scoop_cv(const struct scoop *scoop);

#endif
