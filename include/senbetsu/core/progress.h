/* Running counts of a round or a bowl, the pace, and the cut line. */
#ifndef SENBETSU_CORE_PROGRESS_H
#define SENBETSU_CORE_PROGRESS_H

#include "senbetsu/core/judgement.h"
#include <stdint.h>

/* The fish of a round or a bowl by what stands of them (docs/decisions/standing.md). */
struct verdict_counts {
    int expected; /* 0 = not known */
    int judged;   /* keep + hold + reject */
    int verdicts[VERDICT_COUNT];
    int changed; /* judged or corrected since the round's latest pass */
};

void verdict_counts_add(struct verdict_counts *tally, enum verdict verdict);

/* So many held fish are kept instead, or as many as are held (a closer look at basins). Returns how
 * many. */
int verdict_counts_pick(struct verdict_counts *tally, int picked);

/* Fish per hour from the instants at which fish were closed, in order: the fish after the first,
 * over the time they took, leaving out every gap of more than PACE_BREAK_MS (a break is no work).
 * 0 = not known: fewer than PACE_FEWEST fish without the breaks (two quick keys would promise
 * thousands an hour), or no time passed. A rule of this program, not of the trade. */
enum { PACE_BREAK_MS = 5 * 60 * 1000, PACE_FEWEST = 5 };
int pace_per_hour(const int64_t *closed_ms, size_t count);

enum cut_kind {
    CUT_UNKNOWN, /* no places set; or some are left and the expected number is not known */
    CUT_ALL,     /* every fish that passes */
    CUT_EARLY,   /* too few fish seen to tell that any is among the best: none yet */
    CUT_NONE,    /* no place left */
    CUT_OVER,    /* fish with more than `score` */
};

struct cut {
    enum cut_kind kind;
    int64_t score; /* in the units of the scores given */
};

/* The running cut line: a fish is kept if it would be among the best `places` of the whole round,
 * were the fish to come like those so far. Of `judged` fish so far, `scores` holds the `count` that
 * could be kept (no knock-out, no floor, nothing open), ascending; `kept` places are taken, `left`
 * fish are still to come. Of the judged fish and the next, places · (judged + 1) / (judged + left)
 * belong to the best, rounded to the nearest whole number, halves up: the next is one of them if no
 * more than that, itself included, have its score or a better one. Equal scores so stand or fall
 * together. With no fish to come it is whether a fish that is judged is among the best `places` of
 * all.
 *
 * `keep_at` is the threshold in the same units: where the line would be below it, every fish that
 * passes is kept. `places` < 0: no places are set; `left` < 0: nobody knows how many fish there
 * are. Why it is this rule, with an example and how well it does: docs/cut-line.md. */
struct cut cut_line(const int64_t *scores, size_t count, int judged, int kept, int places, int left,
                    int64_t keep_at);

/* Does a fish with this score, which reaches keep, get a place? Where no line can be told, yes. */
bool cut_has_place(struct cut cut, int64_t score);

#endif
