/* Running counts of a round or a bowl, the pace, and the cut line. */
#ifndef SENBETSU_CORE_PROGRESS_H
#define SENBETSU_CORE_PROGRESS_H

#include "senbetsu/core/judgement.h"
#include <stdint.h>

/* The fish of a round or a bowl by their verdicts. */
struct verdict_counts {
    int expected; /* 0 = not known */
    int judged;   /* keep + hold + reject */
    int verdicts[VERDICT_COUNT];
};

void verdict_counts_add(struct verdict_counts *tally, enum verdict verdict);

/* Fish per hour from the instants at which fish were closed, in order: the fish after the first,
 * over the time they took, leaving out every gap of more than PACE_BREAK_MS (a break is no work).
 * 0 = not known: fewer than PACE_FEWEST fish without the breaks (two quick keys would promise
 * thousands an hour), or no time passed. A rule of this program, not of the trade. */
enum { PACE_BREAK_MS = 5 * 60 * 1000, PACE_FEWEST = 5 };
int pace_per_hour(const int64_t *closed_ms, size_t count);

enum cut_kind {
    CUT_UNKNOWN, /* no places set; or some are left and the expected number is not known; or an
                    estimate is needed and fewer than CUT_FEWEST fish are judged or none of them
                    could be kept */
    CUT_ALL,     /* at least as many places left as fish: every fish that passes */
    CUT_NONE,    /* no place left */
    CUT_AT,      /* from `score` upward */
};

enum { CUT_FEWEST = 10 };

struct cut {
    enum cut_kind kind;
    int64_t score; /* in the units of the scores given */
};

/* The running cut line. Of `judged` fish so far, `scores` holds the `count` that could be kept (no
 * knock-out, no floor, nothing open); `kept` places are taken, `places` there are in all, `left`
 * fish are still to come. If the fish to come are like those so far, keeping from score c upward
 * fills left · |{scores ≥ c}| / judged places: the answer is the lowest score seen for which that
 * is no more than the places left, compared exactly. If even the best score seen is too many, it is
 * that best score. `places` < 0: no places are set; `left` < 0: nobody knows how many fish there
 * are. That no place is left, or that places suffice for all, is no estimate and is known from the
 * first fish on. Explained with an example in docs/cut-line.md. */
struct cut cut_line(const int64_t *scores, size_t count, int judged, int kept, int places,
                    int left);

#endif
