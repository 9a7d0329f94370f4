/* Turns what was seen of a fish into a verdict, and the fish of a round into a ranking.
 *
 * Scores are kept as whole numbers over one denominator for each standard (score_unit), so that no
 * rounding can part two equal fish or lift one over a threshold. With the largest weights and scale
 * that a standard may have, and the hundredths of thresholds and deductions, that stays far below
 * 64 bits.
 *
 * The rules stand in one function in the order in which they decide: a fault that rejects needs no
 * scores, an aspect that was not judged leaves the fish open, floors come before the faults that
 * only hold, and the score decides what is left. Places come last and over the whole round, because
 * whether a fish gets one depends on the others. */
#include "senbetsu/core/judgement.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/hash.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void judgement_init(struct judgement *judgement)
{
    *judgement = (struct judgement){.by_hand = VERDICT_OPEN};
    memset(judgement->scores, SCORE_NONE, sizeof judgement->scores);
}

static int64_t sum_of_weights(const struct standard *standard)
{
    int64_t sum = 0;
    for (int i = 0; i < standard->aspect_count; i++)
        sum += standard->aspects[i].weight;
    return sum;
}

/* score_unit per hundredth of a point: what thresholds and deductions are multiplied by. */
static int64_t hundredth(const struct standard *standard)
{
    return (standard->highest - standard->lowest) * sum_of_weights(standard);
}

int64_t score_unit(const struct standard *standard)
{
    return 100 * hundredth(standard);
}

static bool has_fault(const struct judgement *judgement, int fault)
{
    return (judgement->faults >> fault & 1) != 0;
}

static int first_fault(const struct standard *standard, const struct judgement *judgement,
                       enum fault_effect effect)
{
    for (int i = 0; i < standard->fault_count; i++)
        if (standard->faults[i].effect == effect && has_fault(judgement, i))
            return i;
    return -1;
}

static int first_unscored(const struct standard *standard, const struct judgement *judgement)
{
    for (int i = 0; i < standard->aspect_count; i++)
        if (judgement->scores[i] < standard->lowest || judgement->scores[i] > standard->highest)
            return i;
    return -1;
}

static int first_under_floor(const struct standard *standard, const struct judgement *judgement,
                             enum verdict below_floor)
{
    for (int i = 0; i < standard->aspect_count; i++) {
        const struct aspect *aspect = &standard->aspects[i];
        if (aspect->floor != NO_FLOOR && judgement->scores[i] < aspect->floor &&
            aspect->below_floor == below_floor)
            return i;
    }
    return -1;
}

/* In units of 1/score_unit: the weighted sum, times 100 points, times the 100 of the unit. */
static int64_t score_of(const struct standard *standard, const struct judgement *judgement)
{
    int64_t weighted = 0, deducted = 0;
    for (int i = 0; i < standard->aspect_count; i++)
        weighted +=
            (int64_t)standard->aspects[i].weight * (judgement->scores[i] - standard->lowest);
    for (int i = 0; i < standard->fault_count; i++)
        if (standard->faults[i].effect == EFFECT_DEDUCT && has_fault(judgement, i))
            deducted += standard->faults[i].deduction;
    int64_t score = INT64_C(10000) * weighted - deducted * hundredth(standard);
    return score > 0 ? score : 0;
}

int64_t keep_score(const struct standard *standard)
{
    return standard->keep_at * hundredth(standard);
}

static enum verdict verdict_of(int64_t score, int64_t keep, int64_t hold)
{
    return score >= keep ? VERDICT_KEEP : score >= hold ? VERDICT_HOLD : VERDICT_REJECT;
}

static enum verdict verdict_of_score(const struct standard *standard, int64_t score)
{
    return verdict_of(score, keep_score(standard), standard->hold_at * hundredth(standard));
}

static struct decision because(enum verdict verdict, enum reason reason, int which)
{
    return (struct decision){.verdict = verdict, .reason = reason, .which = which};
}

/* The rules in their order; the first that applies decides. */
static struct decision by_rules(const struct standard *standard, const struct judgement *judgement)
{
    int which;
    if ((which = first_fault(standard, judgement, EFFECT_REJECT)) >= 0)
        return because(VERDICT_REJECT, REASON_FAULT, which);
    if ((which = first_unscored(standard, judgement)) >= 0)
        return because(VERDICT_OPEN, REASON_UNSCORED, which);
    if ((which = first_under_floor(standard, judgement, VERDICT_REJECT)) >= 0)
        return because(VERDICT_REJECT, REASON_FLOOR, which);
    if ((which = first_under_floor(standard, judgement, VERDICT_HOLD)) >= 0)
        return because(VERDICT_HOLD, REASON_FLOOR, which);
    if ((which = first_fault(standard, judgement, EFFECT_HOLD)) >= 0)
        return because(VERDICT_HOLD, REASON_FAULT, which);
    return because(verdict_of_score(standard, score_of(standard, judgement)), REASON_SCORE, -1);
}

struct decision judgement_decide(const struct standard *standard, const struct judgement *judgement)
{
    struct decision decision = judgement->by_hand != VERDICT_OPEN
                                   ? because(judgement->by_hand, REASON_BY_HAND, -1)
                                   : by_rules(standard, judgement);
    decision.scored = first_unscored(standard, judgement) < 0;
    if (decision.scored)
        decision.score = score_of(standard, judgement);
    return decision;
}

/* What was seen under one code. */
static uint64_t seen(const char *code, int what)
{
    return hash_mixed(hash_on(HASH_BEGINS, code) + (uint64_t)what);
}

/* A sum, which has no order. Codes have no blanks, so that no fault and no aspect is taken for a
 * verdict by hand; a fault's code may be an aspect's. */
int64_t judgement_key(const struct standard *standard, const struct judgement *judgement)
{
    enum { FAULT = 100 };
    uint64_t key = 0;
    for (int i = 0; i < standard->aspect_count; i++)
        if (judgement->scores[i] != SCORE_NONE)
            key += seen(standard->aspects[i].code, judgement->scores[i]);
    for (int i = 0; i < standard->fault_count; i++)
        if (has_fault(judgement, i))
            key += seen(standard->faults[i].code, FAULT);
    if (judgement->by_hand != VERDICT_OPEN)
        key += seen("by hand", (int)judgement->by_hand);
    return (int64_t)key;
}

enum { UNSEEN = '.', SEEN = '+', TEN = 'X' };

/* Not through printf: every key and every imported fish comes by here. */
void judgement_text(const struct standard *standard, const struct judgement *judgement,
                    char ret_text[JUDGEMENT_TEXT_SIZE])
{
    char *at = ret_text, *end = ret_text; /* behind the last that says something */
    for (int i = 0; i < standard->aspect_count; i++) {
        int score = judgement->scores[i];
        *at++ = (char)(score == SCORE_NONE ? UNSEEN : score == 10 ? TEN : '0' + score);
        if (score != SCORE_NONE)
            end = ret_text + standard->aspect_count;
    }
    for (int i = 0; i < standard->fault_count; i++) {
        *at++ = has_fault(judgement, i) ? SEEN : UNSEEN;
        if (has_fault(judgement, i))
            end = ret_text + standard->aspect_count + standard->fault_count;
    }
    if (judgement->by_hand != VERDICT_OPEN)
        end = stpcpy(at, verdict_terms[judgement->by_hand].word);
    *end = '\0';
}

static bool parse_score(char mark, int8_t *ret)
{
    if (mark != UNSEEN && mark != TEN && (mark < '0' || mark > '9'))
        return false;
    *ret = (int8_t)(mark == UNSEEN ? SCORE_NONE : mark == TEN ? 10 : mark - '0');
    return true;
}

bool judgement_parse(const struct standard *standard, const char *text, struct judgement *ret)
{
    judgement_init(ret);
    if (*text == '\0')
        return true;
    for (int i = 0; i < standard->aspect_count; i++, text++)
        if (!parse_score(*text, &ret->scores[i]))
            return false;
    if (*text == '\0')
        return true;
    for (int i = 0; i < standard->fault_count; i++, text++) {
        if (*text != SEEN && *text != UNSEEN)
            return false;
        ret->faults |= (uint32_t)(*text == SEEN) << i;
    }
    int verdict = term_find(verdict_terms, VERDICT_COUNT, text);
    if (verdict > 0)
        ret->by_hand = (enum verdict)verdict;
    return verdict > 0 || *text == '\0';
}

struct decision decision_of_score(const struct standard *standard, int64_t score)
{
    struct decision decision = because(verdict_of_score(standard, score), REASON_SCORE, -1);
    decision.scored = true;
    decision.score = score;
    return decision;
}

/* The ledger keeps this in the fish's row with every stroke. Without it each total on the sheet
 * would replay every stroke of the round after every key. It is derived, so a check can rebuild it,
 * and it leaves places out: those change when another fish changes. */
struct cached_verdict cached_verdict_of(const struct standard *standard,
                                        const struct judgement *judgement)
{
    struct decision decision = judgement_decide(standard, judgement);
    struct cached_verdict cached = {
        .verdict = decision.verdict,
        .could_be_kept = decision.reason == REASON_SCORE,
        .scored = decision.scored,
        .score = decision.score,
        .unit = score_unit(standard),
    };
    judgement_text(standard, judgement, cached.judgement);
    cached.key = judgement_key(standard, judgement);
    return cached;
}

static bool kept_by_score(const struct decision *decision)
{
    return decision->verdict == VERDICT_KEEP && decision->reason != REASON_BY_HAND;
}

void decisions_by_score(const struct standard *standard, struct decision *decisions, size_t count)
{
    int64_t keep = keep_score(standard), hold = standard->hold_at * hundredth(standard);
    for (size_t i = 0; i < count; i++) {
        struct decision *decision = &decisions[i];
        if (decision->reason != REASON_SCORE && decision->reason != REASON_PLACES)
            continue;
        decision->reason = REASON_SCORE;
        decision->verdict = verdict_of(decision->score, keep, hold);
    }
}

/* What is missing to the best score, and the index: whoever has no score comes last. */
struct rank_key {
    uint32_t missing, index;
};

/* By the four bytes of `missing`, the lowest first, each time keeping the order within: far quicker
 * than comparing, for a pass ranks a million fish. `spare` has room for as many. */
static void sort_keys(struct rank_key *keys, struct rank_key *spare, size_t count)
{
    enum { BYTES = 4, BITS = 8, VALUES = 1 << BITS };
    for (int shift = 0; shift < BYTES * BITS; shift += BITS) {
        size_t begins[VALUES + 1] = {0};
        for (size_t i = 0; i < count; i++)
            begins[(keys[i].missing >> shift) % VALUES + 1]++;
        for (int i = 0; i < VALUES; i++)
            begins[i + 1] += begins[i];
        for (size_t i = 0; i < count; i++)
            spare[begins[(keys[i].missing >> shift) % VALUES]++] = keys[i];
        struct rank_key *sorted = spare; /* an even number of times */
        spare = keys;
        keys = sorted;
    }
}

void decisions_rank(struct decision *decisions, size_t count, uint32_t *ret_order)
{
    struct rank_key *keys = alloc_zeroed(2 * count, sizeof *keys);
    for (size_t i = 0; i < count; i++)
        keys[i] = (struct rank_key){
            decisions[i].scored ? (uint32_t)(SCORE_MOST - decisions[i].score) : UINT32_MAX,
            (uint32_t)i};
    sort_keys(keys, keys + count, count);
    for (size_t i = 0; i < count; i++) {
        struct decision *decision = &decisions[keys[i].index];
        bool equal = i > 0 && keys[i].missing == keys[i - 1].missing;
        ret_order[i] = keys[i].index;
        decision->rank = !decision->scored ? 0
                         : equal           ? decisions[keys[i - 1].index].rank
                                           : (int)i + 1;
    }
    free(keys);
}

int rank_compare(int a, int b)
{
    if (a == 0 || b == 0)
        return (a == 0) - (b == 0);
    return (a > b) - (a < b);
}

/* A fish kept by hand has its place whatever its score: the person who decided has seen it. */
static size_t places_left(const struct decision *decisions, size_t count, int places)
{
    size_t left = (size_t)places;
    for (size_t i = 0; i < count && left > 0; i++)
        if (decisions[i].verdict == VERDICT_KEEP && decisions[i].reason == REASON_BY_HAND)
            left--;
    return left;
}

/* Equal scores are kept or held together: between fish that the standard cannot tell apart, a
 * person decides, not the order in which they were entered. So places may be left over. */
void decisions_limit(struct decision *decisions, const uint32_t *order, size_t count, int places)
{
    if (places < 0)
        return;
    size_t left = places_left(decisions, count, places), kept = 0, start = 0;
    int rank = 0; /* of the group that begins at `start` */
    for (size_t i = 0; i < count && kept <= left; i++) {
        const struct decision *decision = &decisions[order[i]];
        if (decision->rank != rank) {
            rank = decision->rank;
            start = i;
        }
        kept += kept_by_score(decision);
    }
    if (kept <= left)
        return;
    for (size_t i = start; i < count; i++) {
        struct decision *decision = &decisions[order[i]];
        if (!kept_by_score(decision))
            continue;
        decision->verdict = VERDICT_HOLD;
        decision->reason = REASON_PLACES;
    }
}

void decisions_hold_behind(struct decision *decisions, size_t count, int64_t score)
{
    for (size_t i = 0; i < count; i++)
        if (kept_by_score(&decisions[i]) && decisions[i].score < score) {
            decisions[i].verdict = VERDICT_HOLD;
            decisions[i].reason = REASON_PLACES;
        }
}

struct tie decisions_tie(const struct decision *decisions, size_t count, int places)
{
    struct tie tie = {.places_left = places};
    if (places < 0)
        return (struct tie){0};
    for (size_t i = 0; i < count; i++)
        tie.places_left -= decisions[i].verdict == VERDICT_KEEP;
    for (size_t i = 0; i < count && tie.places_left > 0; i++) {
        if (decisions[i].reason != REASON_PLACES || decisions[i].score < tie.score)
            continue;
        tie.count = decisions[i].score > tie.score ? 1 : tie.count + 1;
        tie.score = decisions[i].score;
    }
    if (tie.count <= tie.places_left) /* held behind others, not for want of a place */
        tie.count = 0;
    return tie;
}

bool decision_ties(const struct decision *decision, const struct tie *tie)
{
    return tie->count > 0 && decision->reason == REASON_PLACES && decision->score == tie->score;
}

const char *tie_text(const struct standard *standard, const struct tie *tie,
                     char ret_text[TIE_TEXT_SIZE])
{
    char score[NUMBER_SIZE];
    ret_text[0] = '\0';
    if (tie->count > 0) {
        number_to_tenth(tie->score, score_unit(standard), score);
        snprintf(ret_text, TIE_TEXT_SIZE, "%d fish tie at %s for %d place%s", tie->count, score,
                 tie->places_left, tie->places_left == 1 ? "" : "s");
    } else if (tie->places_left < 0) {
        snprintf(ret_text, TIE_TEXT_SIZE, "%d more fish %s kept by hand than there are places",
                 -tie->places_left, tie->places_left == -1 ? "is" : "are");
    }
    return ret_text;
}

void round_decide(const struct standard *standard, const struct judgement *judgements, size_t count,
                  int places, struct decision *ret)
{
    uint32_t *order = alloc_zeroed(count, sizeof *order);
    for (size_t i = 0; i < count; i++)
        ret[i] = judgement_decide(standard, &judgements[i]);
    decisions_rank(ret, count, order);
    decisions_limit(ret, order, count, places);
    free(order);
}

void decision_score_text(const struct standard *standard, const struct decision *decision,
                         char ret_text[32])
{
    if (decision->scored)
        number_to_tenth(decision->score, score_unit(standard), ret_text);
    else
        ret_text[0] = '\0';
}

void decision_reason_code(const struct standard *standard, const struct decision *decision,
                          char ret_text[REASON_SIZE])
{
    const char *word = "", *code = "";
    switch (decision->reason) {
    case REASON_BY_HAND:
        word = "by hand";
        break;
    case REASON_FAULT:
        word = "fault ";
        code = standard->faults[decision->which].code;
        break;
    case REASON_UNSCORED:
        word = "unscored ";
        code = standard->aspects[decision->which].code;
        break;
    case REASON_FLOOR:
        word = "floor ";
        code = standard->aspects[decision->which].code;
        break;
    case REASON_SCORE:
        word = "score";
        break;
    case REASON_PLACES:
        word = "places";
        break;
    }
    text_copy(ret_text, REASON_SIZE, word);
    size_t length = strlen(ret_text);
    text_copy(ret_text + length, REASON_SIZE - length, code);
}

/* The threshold that was missed says more than the word. */
static void score_label(const struct standard *standard, enum verdict verdict,
                        char ret_text[REASON_SIZE])
{
    char missed[NUMBER_SIZE];
    if (verdict == VERDICT_KEEP) {
        text_copy(ret_text, REASON_SIZE, "score");
        return;
    }
    number_from_hundredths(verdict == VERDICT_HOLD ? standard->keep_at : standard->hold_at, missed);
    snprintf(ret_text, REASON_SIZE, "score under %s", missed);
}

void decision_reason_label(const struct standard *standard, const struct decision *decision,
                           char ret_text[REASON_SIZE])
{
    const struct aspect *aspect;
    switch (decision->reason) {
    case REASON_BY_HAND:
        text_copy(ret_text, REASON_SIZE, "by hand");
        break;
    case REASON_FAULT:
        text_copy(ret_text, REASON_SIZE, standard->faults[decision->which].label);
        break;
    case REASON_UNSCORED:
        aspect = &standard->aspects[decision->which];
        snprintf(ret_text, REASON_SIZE, "%s not judged", aspect->label);
        break;
    case REASON_FLOOR:
        aspect = &standard->aspects[decision->which];
        snprintf(ret_text, REASON_SIZE, "%s under %d", aspect->label, aspect->floor);
        break;
    case REASON_SCORE:
        score_label(standard, decision->verdict, ret_text);
        break;
    case REASON_PLACES:
        text_copy(ret_text, REASON_SIZE, "no place left");
        break;
    }
}
