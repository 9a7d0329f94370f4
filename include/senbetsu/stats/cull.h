/* One cull, or several taken as one: how many fish went in, how many were kept, how sure both
 * numbers are and what is doubtful about them. It is the one struct of this fact: reports,
 * statistics, print and screens pass it on whole.
 *
 * Errors of the two numbers may be linked (the same scoops measured both), so their covariance is
 * part of the fact: leaving it out would make the keep rate look less certain than it is. */
#ifndef SENBETSU_STATS_CULL_H
#define SENBETSU_STATS_CULL_H

#include <stdbool.h>
#include <stdint.h>

/* A cv is the standard error of a number over the number; 0 = counted fish by fish. */
struct cull {
    int64_t in, kept;
    double in_cv, kept_cv;
    double covariance; /* of both relative errors; 0 = made independently */
    int64_t dead;      /* found dead in it and since the cull before; -1 = not known */
    /* Of its rounds that are not done so many fish of all are judged; `whole` 0 = all are done. The
     * numbers are those of the rounds that are done; where none is (`not_done`), they are those so
     * far, and no rate is made of them. */
    int64_t done, whole;
    bool not_done;
    bool outdated;      /* the pass of one of its rounds is out of date */
    bool so_far;        /* in one of its rounds nobody said that no more fish come */
    bool estimated;     /* one of its numbers is an estimate … */
    bool error_unknown; /* … of which nobody knows the error */
    bool recovered;     /* more were kept than went in, or more went in than the cull before kept */
};

/* Two culls of different fish taken as one; their numbers were made independently. Beside one that
 * is done, what is not done adds nothing but how far it is. The cv of a sum
 * is √(Σ(nᵢ·cvᵢ)²) ÷ Σnᵢ, the covariance is summed in fish. */
struct cull cull_sum(struct cull a, struct cull b);

/* From what went into the first cull to what the last one of the same fish kept; both may be the
 * same one. What was found dead between them is not known. */
struct cull cull_span(const struct cull *first, const struct cull *last);

/* May more fish be to come? */
bool cull_at_work(const struct cull *cull);

#endif
