/* One look at one fish, and what a standard makes of it. Exact throughout: whole numbers only.
 *
 * A judgement is what was seen; a decision is what follows from it. They are kept apart because a
 * standard's thresholds are moved after the fish were seen, and nobody looks at ten thousand fish
 * twice. */
#ifndef SENBETSU_CORE_JUDGEMENT_H
#define SENBETSU_CORE_JUDGEMENT_H

#include "senbetsu/core/standard.h"
#include <stdint.h>

enum { SCORE_NONE = -1 };

struct judgement {
    int8_t scores[STANDARD_ASPECTS]; /* in the standard's order; SCORE_NONE = not judged */
    uint32_t faults;                 /* bit i = the standard's fault i was seen */
    enum verdict by_hand;            /* VERDICT_OPEN = nothing was changed by hand */
};

void judgement_init(struct judgement *judgement);

/* The first rule that applied. `which` in struct decision is the aspect or fault it speaks of. */
enum reason {
    REASON_BY_HAND,
    REASON_FAULT,
    REASON_UNSCORED,
    REASON_FLOOR,
    REASON_SCORE,
    REASON_PLACES,
};

/* A round has many, so this is small. */
struct decision {
    enum verdict verdict : 8;
    enum reason reason : 8;
    signed which : 8; /* index of the aspect or fault for FAULT, UNSCORED and FLOOR; else -1 */
    bool scored;      /* every aspect has a score */
    int rank;         /* 1 = best, equal scores share the better rank; 0 = no score */
    int64_t score;    /* in units of 1/score_unit(standard), valid where scored; never negative */
};

/* The denominator in which all scores of one standard are whole numbers:
 * 100 · (highest − lowest) · Σ weights. */
int64_t score_unit(const struct standard *standard);

/* With the widest scale and all aspects of the highest weight; and the score of such a fish. */
enum {
    SCORE_UNIT_MOST = 100 * (10 - 1) * STANDARD_ASPECTS * 100,
    SCORE_MOST = 100 * SCORE_UNIT_MOST,
};

/* The least score that is keep, in the same units. */
int64_t keep_score(const struct standard *standard);

/* A judgement as one number, 0 where nothing was seen. It knows aspects and faults by their codes:
 * two that are the same number are the same judgement, whatever the order of a standard's version
 * or its thresholds. So a pass knows whether a fish is still as it saw it. A hash of 64 bits: that
 * two judgements of one fish share theirs by accident is not to be expected in any lifetime. */
int64_t judgement_key(const struct standard *standard, const struct judgement *judgement);

/* A judgement packed into a text in the order of the standard: a character an aspect, '0'-'9', 'X'
 * = 10, '.' = not judged; then, where there are any, a character a fault, '+' = seen, '.' = not;
 * then the verdict by hand, if there is one. "" where nothing was seen. */
enum { JUDGEMENT_TEXT_SIZE = STANDARD_ASPECTS + STANDARD_FAULTS + 16 };
void judgement_text(const struct standard *standard, const struct judgement *judgement,
                    char ret_text[JUDGEMENT_TEXT_SIZE]);

/* Reads it back. False where it is no judgement by that standard. */
bool judgement_parse(const struct standard *standard, const char *text, struct judgement *ret);

/* What a fish is judged to be while its round is still being judged, passes left aside. The sheet
 * passes it to the ledger with every stroke, so that totals need not replay all strokes. Derived;
 * `check` rebuilds it. */
struct cached_verdict {
    enum verdict verdict;
    bool could_be_kept; /* scored, and decided by its score alone: what the cut line counts */
    bool scored;
    bool no_place;       /* keep by its score, but put on hold for want of a place */
    int64_t score, unit; /* score/unit points, valid where scored */
    int64_t key;         /* of what decides */
    char judgement[JUDGEMENT_TEXT_SIZE];
};

/* Places left aside: core/entry.h knows whether there was one. */
struct cached_verdict cached_verdict_of(const struct standard *standard,
                                        const struct judgement *judgement);

/* One fish by itself: the rules of the standard, or the verdict by hand; rank 0. The score is 100 ·
 * Σ wᵢ(sᵢ − lowest)/(highest − lowest)/Σ wᵢ − Σ deductions, never under 0. */
struct decision judgement_decide(const struct standard *standard,
                                 const struct judgement *judgement);

/* The same of one that nothing but this score decides. */
struct decision decision_of_score(const struct standard *standard, int64_t score);

/* Decides anew, by the thresholds, those that nothing but their score decides; nothing else hangs
 * on thresholds. Whoever had no place has one again. */
void decisions_by_score(const struct standard *standard, struct decision *decisions, size_t count);

/* Ranks whatever has a score, in place: 1, 2, 2, 4. `ret_order`, with room for `count`, is the
 * order in which they are listed: indexes, best first, equal ranks as they stand, those without a
 * score last. */
void decisions_rank(struct decision *decisions, size_t count, uint32_t *ret_order);

/* The same order of two ranks. As qsort wants it; 0 for equal ranks. */
int rank_compare(int a, int b);

/* Limits the kept fish, which are ranked, to the places: fish kept by hand take theirs first; of
 * the others those stay keep whose whole group of equal scores fits into the places left, the rest
 * become hold for `places`. Places < 0 means no limit. */
void decisions_limit(struct decision *decisions, const uint32_t *order, size_t count, int places);

/* Fish that their score keeps though better ones, down to `score`, were left by hand for a tie:
 * they wait for a place behind these, whatever places are free. */
void decisions_hold_behind(struct decision *decisions, size_t count, int64_t score);

/* Fish of one score that reaches keep, for whom there are places, but not for all: the standard
 * cannot tell them apart, so a person takes a closer look. */
struct tie {
    int count;       /* fish that tie, 0 = none do */
    int64_t score;   /* theirs, as struct decision has it */
    int places_left; /* places that no fish has: of a tie fewer than `count`; below 0, so many fish
                        more than there are places were kept by hand; 0 without a limit */
};

/* Of decisions that were limited to the places. */
struct tie decisions_tie(const struct decision *decisions, size_t count, int places);

bool decision_ties(const struct decision *decision, const struct tie *tie);

/* "29 fish tie at 50.0 for 10 places", or "2 more fish are kept by hand than there are places", or
 * "" where the places decide without doubt. */
enum { TIE_TEXT_SIZE = 96 };
const char *tie_text(const struct standard *standard, const struct tie *tie,
                     char ret_text[TIE_TEXT_SIZE]);

/* The reason of a verdict by hand that decides a tie. */
#define TIE_REASON "tie"

/* All three for a whole round. `ret` has room for `count`. */
void round_decide(const struct standard *standard, const struct judgement *judgements, size_t count,
                  int places, struct decision *ret);

/* "71.4", or "" where there is no score. */
void decision_score_text(const struct standard *standard, const struct decision *decision,
                         char ret_text[32]);

/* The reason in files: "fault spine", "unscored white", "floor white", "score", "places",
 * "by hand". And for people: "Bent spine", "White ground not judged", "White ground under 2",
 * "score" of a keep, "score under 50" of what missed a threshold, "no place left", "by hand". */
enum { REASON_SIZE = LABEL_SIZE + 32 };
void decision_reason_code(const struct standard *standard, const struct decision *decision,
                          char ret_text[REASON_SIZE]);
void decision_reason_label(const struct standard *standard, const struct decision *decision,
                           char ret_text[REASON_SIZE]);

#endif
