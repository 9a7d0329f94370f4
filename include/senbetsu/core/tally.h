/* Fish and scoops tallied key by key in a pick or remove round, and what they add up to.
 *
 * A tally keeps each key and not just its sum, so that the last one can always be undone; the
 * numbers of a round are summed from them. */
#ifndef SENBETSU_CORE_TALLY_H
#define SENBETSU_CORE_TALLY_H

#include "senbetsu/core/round.h"
#include "senbetsu/core/standard.h"
#include <stddef.h>

enum tally_kind { TALLY_KEEP, TALLY_REJECT, TALLY_DEAD, TALLY_KIND_COUNT };

/* The ledger's words for the kinds. */
extern const struct term tally_terms[TALLY_KIND_COUNT];

/* What one key records: one fish, or one scoop of a measured size. */
struct tally_mark {
    enum tally_kind kind;
    char reason[CODE_CHARACTERS + 1]; /* of a reject: a fault's code, "" = none given; or
                                         TALLY_STAYS */
    struct scoop scoop;               /* id 0 = one fish */
};

/* A closer look at the basins of a round judged fish by fish (report/closer_look.h) is tallied by
 * the same keys: a keep is a fish picked out of the hold basin into the keep basin; with this
 * reason it is one that lies in the keep basin already and stays there. */
#define TALLY_STAYS "stays"

/* All marks of one sort. */
struct tally_line {
    struct tally_mark mark;
    int64_t times;
};

/* Adds a mark to the line of its sort. Returns the line's index, or -1 where there is none yet. */
int tally_line_find(const struct tally_line *lines, size_t count, const struct tally_mark *mark);

/* The fish of one mark: 1, or those of a scoop. */
int64_t tally_mark_fish(const struct tally_mark *mark);

/* One more than a standard has faults: the rejects without a reason. A round judged by several
 * versions of a standard can have more reasons than one has; what does not fit is in `rejected`. */
enum { TALLY_REASONS = 2 * STANDARD_FAULTS };

struct tally_reason {
    char code[CODE_CHARACTERS + 1];
    struct count count;
};

/* A number that holds no scoop is counted. One with scoops is scooped; its error is that of the
 * scoops' sizes: the error of one size is common to all scoops of it, those of several sizes are
 * independent. It is 0 (not known) where the size was found from a single scoop. */
struct tally_totals {
    struct count kept, rejected, dead;
    struct count in; /* as tallied: all three; settled: what went into the round */
    /* What the errors of `kept` and `in` have in common, because scoops of one size are in both or
     * one is what is left of the other: the covariance of the relative errors, in millionths of
     * millionths. */
    int64_t covariance;
    bool rejected_is_rest; /* settled: the fish that were not picked */
    bool kept_is_rest;     /* settled: the fish that were not removed */
    int64_t left;          /* settled: fish still to come, as tally_left has it; else -1 */
    int reason_count;
    struct tally_reason reasons[TALLY_REASONS]; /* as tallied, in the order of the lines */
    char first_day[11], last_day[11]; /* "" = nothing was tallied; the ledger fills them */
};

/* The numbers of a round: what was tallied of it, and over it what was stated. Where both in and
 * kept were stated, the tally says nothing. */
struct round_counts tally_counts(const struct tally_totals *totals,
                                 const struct round_counts *stated);

struct tally_totals tally_totals_of(const struct tally_line *lines, size_t count);

/* What a closer look at basins has picked: fish that are kept though the pass, which cannot tell
 * them from others, holds them. */
struct picks {
    int from_hold; /* out of the hold basin */
    int stay;      /* in the keep basin since they were judged */
};
struct picks picks_of(const struct tally_line *lines, size_t count);
int picks_total(const struct picks *picks);

/* Those of them that without picks would stand on hold: fish that stay in the keep basin do so only
 * once a pass (`passed`) has held them. */
struct picks picks_standing(const struct picks *picks, bool passed);

/* Fish that were in hand: kept, rejected and dead as tallied. */
int64_t tally_handled(const struct tally_totals *totals);

/* Infers the fish that were not tallied from the lot's number `in`. In a pick round in which no
 * fish was tallied as rejected, the rejects are all fish that were neither kept nor dead; in a
 * remove round in which no fish was tallied as kept, the kept ones are those neither rejected nor
 * dead. Nothing changes where the number is not known, or where it is smaller than what was
 * tallied. */
void tally_settle(struct tally_totals *totals, enum manner manner, const struct count *in);

/* Fish still to come of a lot of `in`, -1 = not known. In a pick round it is known only where the
 * fish left over are tallied as well: who tallies the picked fish alone does not say how far the
 * lot is. `totals` as tallied, not settled. */
int64_t tally_left(const struct tally_totals *totals, enum manner manner, const struct count *in);

/* The pace of one sorter, summed mark by mark: gaps of more than PACE_BREAK_MS (core/progress.h)
 * are breaks. */
struct tally_pace {
    int64_t last_ms; /* 0 = nothing yet */
    int64_t fish, worked_ms;
};
void tally_pace_add(struct tally_pace *pace, int64_t at_ms, int64_t fish);

/* Less work than this tells no pace. */
enum { PACE_LEAST_MS = 60 * 1000 };

/* Fish per hour, 0 = not known yet. */
int64_t tally_pace_per_hour(const struct tally_pace *pace);

/* Minutes for so many fish at so many an hour, rounded up; -1 = not known. */
int64_t tally_minutes(int64_t fish, int64_t per_hour);

#endif
