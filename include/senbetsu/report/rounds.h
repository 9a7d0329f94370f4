/* What a round comes to: how far it is, its numbers, whichever way they were made, and its latest
 * pass. Sheet, screens, lists, rates, the replay of the lots and the season book all stand on this
 * one summary, so that no two of them can differ on a round. It is read from what the ledger keeps
 * ready, at each key of the sheet as well as for all rounds at once, and looks at no fish. */
#ifndef SENBETSU_REPORT_ROUNDS_H
#define SENBETSU_REPORT_ROUNDS_H

#include "senbetsu/core/round.h"
#include "senbetsu/store/rounds.h"

struct round_summary {
    struct round round;
    int bowls;
    /* What stands (docs/decisions/standing.md), with the fish that a closer look at basins has
     * picked, whichever they are; or as tallied. Expected: what the round says, else what its bowls
     * hold (store/rounds.h); 0 = not known. */
    struct verdict_counts tally;
    int picked; /* of the kept: those that a closer look has picked out of the held */

    /* Its numbers: as stated; where nothing was, from the fish judged in it (in = those judged,
     * kept and rejected as they stand, counted); else from its tally. The day: as stated, else the
     * first one on which fish were judged or tallied. */
    struct round_counts counts;
    int64_t covariance; /* by the errors of in and kept, as struct tally_totals has it */
    bool stated;        /* of a round that is not judged: both its numbers were stated */
    bool in_so_far; /* what went in are the fish judged so far, and nobody said that they are all */
    /* Not done: so many fish of all that it is known to hold are judged, one by one or tallied;
     * `whole` 0 = it is not known to be so. */
    int64_t done, whole;

    char first_day[11], last_day[11]; /* of its judgements, local, "" = none */
    struct latest_pass pass;
};

/* ERR_ABSENT where there is no such round. */
bool round_summary_get(struct ledger *ledger, int64_t id, struct round_summary *ret,
                       struct err *err);

/* Of a spawning, or of all (NULL): by season, spawning, stage, lot. */
bool round_summary_list(struct ledger *ledger, const char *spawning, struct round_summary **ret,
                        size_t *ret_count, struct err *err);

/* The numbers of all rounds, by id; not one of them is looked up by itself unless more is known of
 * it than was stated. */
bool cull_numbers_list(struct ledger *ledger, struct cull_numbers **ret, size_t *ret_count,
                       struct err *err);

/* Would a pass by the round's standard and places, of the fish as they are judged now, be another
 * one than the latest? */
bool round_pass_outdated(const struct round_summary *summary);

/* Why: "2 fish judged since, 20 places then and 18 now", "" where it is not. */
enum { ROUND_SENTENCE_SIZE = 512 };
const char *round_pass_changes(const struct round_summary *summary,
                               char ret_text[ROUND_SENTENCE_SIZE]);

/* "The pass is out of date: …." */
const char *round_pass_sentence(const struct round_summary *summary,
                                char ret_text[ROUND_SENTENCE_SIZE]);

/* "not done: 35 of 60 judged", "" where nothing is known to be left. */
const char *round_not_done(const struct round_summary *summary, char ret_text[ROUND_SENTENCE_SIZE]);

/* What is known of a round without its judged fish: what was stated, and where nothing was, what
 * was tallied in it (store/tallies.h). Of a round whose numbers in and kept were both stated,
 * nothing is taken from the tally. */
bool round_counts_known(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                        struct err *err);

#endif
