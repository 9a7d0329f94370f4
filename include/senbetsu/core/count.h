/* The numbers of a round: how many fish went in, how many were kept, rejected, found dead, and how
 * well that is known. */
#ifndef SENBETSU_CORE_COUNT_H
#define SENBETSU_CORE_COUNT_H

#include "senbetsu/base/err.h"
#include "senbetsu/core/code.h"
#include "senbetsu/core/terms.h"
#include <stdint.h>

enum { NOT_COUNTED = -1, FISH_MOST = 100000000, CV_ONE = 1000000 };

/* A number of fish with its coefficient of variation, the relative standard error of an estimate,
 * in millionths: 0.05 is 50000. 0 = not known, or none because they were counted. */
struct count {
    int64_t number; /* NOT_COUNTED = not known */
    enum method method;
    int cv;
};

struct round_counts {
    struct count in, kept;
    int64_t rejected, dead; /* NOT_COUNTED */
    char day[11];           /* when, "" = not known */
    char note[NOTE_SIZE];
};

/* Nothing is known. */
void round_counts_init(struct round_counts *counts);

/* What is known once `said` has been said as well: a number replaces the number before, with how it
 * was made and its error; the same number said again without them leaves them. What is not said
 * stays. */
void count_apply(struct count *known, const struct count *said);
void round_counts_apply(struct round_counts *known, const struct round_counts *said);

/* Are both numbers of the round known? */
bool round_counts_whole(const struct round_counts *counts);

/* Fish rejected: as they were counted, else what is left of those that went in; NOT_COUNTED where
 * that cannot be told. */
int64_t round_counts_rejected(const struct round_counts *counts);

bool round_counts_equal(const struct round_counts *a, const struct round_counts *b);

/* May it stand so? An error belongs to an estimate, both belong to a number. */
bool count_check(const struct count *count, struct err *err);

/* Was it made in another way than fish by fish? */
bool count_is_estimate(const struct count *count);

/* An estimate whose error nobody knows. */
bool count_error_unknown(const struct count *count);

/* `number`, the sum or the difference of two independent numbers, with how it was made and its
 * error: the errors, in fish, add up as squares. A number of fish that were counted, and none, add
 * nothing; the first of the others says how it was made. The error is not known where one of the
 * two is not. */
struct count count_together(const struct count *a, const struct count *b, int64_t number);

#endif
