/* Replays strokes into what is known of a fish.
 *
 * Strokes are only ever added. A correction is a later stroke, an undo is a stroke that takes an
 * earlier one out of the sum. So nothing that a sorter did is lost, the history of a fish is its
 * strokes in order, and joining the ledgers of two stations is a union of rows in which nothing can
 * conflict.
 *
 * This is the one place where a stroke gets its meaning. The sheet applies it before it commits,
 * the store applies it when it reads, and the check of a ledger applies it years later: all three
 * must come to the same fish. It therefore depends on nothing but its arguments, and passes over
 * codes that the standard no longer has instead of failing on them. */
#include "senbetsu/core/entry.h"
#include "senbetsu/base/text.h"

#include <string.h>

void fish_init(struct fish *fish, int64_t id, int64_t bowl_id, int bowl, int number)
{
    *fish = (struct fish){.id = id,
                          .bowl_id = bowl_id,
                          .bowl = bowl,
                          .number = number,
                          .sent = VERDICT_OPEN,
                          .stands = VERDICT_OPEN};
    judgement_init(&fish->judgement);
    judgement_init(&fish->earlier);
}

void fish_begin_look(struct fish *fish, int look, int64_t at_ms)
{
    if (fish->look == 0)
        fish->first_ms = at_ms;
    enum verdict by_hand = fish->judgement.by_hand;
    if (fish->closed || fish->look <= 1)
        fish->earlier = fish->judgement;
    judgement_init(&fish->judgement);
    fish->judgement.by_hand = by_hand;
    fish->denied = 0;
    fish->look = look;
    fish->closed = false;
}

static void come_to_look(struct fish *fish, int look, int64_t at_ms)
{
    if (look > fish->look)
        fish_begin_look(fish, look, at_ms);
}

/* A score that is taken away, or that the scale does not allow, opens the fish again: a closed fish
 * is one that was judged as a whole. */
void fish_apply_score(struct fish *fish, const struct standard *standard, int look, int64_t at_ms,
                      int aspect, int score)
{
    bool fits = score >= standard->lowest && score <= standard->highest;
    come_to_look(fish, look, at_ms);
    if (aspect < 0)
        return;
    fish->judgement.scores[aspect] = (int8_t)(fits ? score : SCORE_NONE);
    if (!fits)
        fish->closed = false;
}

void fish_apply_fault(struct fish *fish, int look, int64_t at_ms, int fault, bool seen)
{
    come_to_look(fish, look, at_ms);
    if (fault < 0)
        return;
    uint32_t bit = UINT32_C(1) << fault;
    if (seen) {
        fish->judgement.faults |= bit;
        fish->denied &= ~bit;
    } else {
        fish->judgement.faults &= ~bit;
        fish->denied |= bit;
        fish->closed = false;
    }
}

static void set_verdict(struct fish *fish, const struct entry *entry)
{
    fish->judgement.by_hand = (enum verdict)entry->number;
    text_copy(fish->hand_reason, sizeof fish->hand_reason, entry->text);
    if (fish->judgement.by_hand == VERDICT_OPEN)
        fish->closed = false;
}

void fish_apply(struct fish *fish, const struct standard *standard, int look, int64_t at_ms,
                const struct entry *entry)
{
    come_to_look(fish, look, at_ms);
    switch (entry->kind) {
    case ENTRY_SCORE:
        fish_apply_score(fish, standard, look, at_ms, standard_aspect(standard, entry->what),
                         entry->number);
        break;
    case ENTRY_FAULT:
        fish_apply_fault(fish, look, at_ms, standard_fault(standard, entry->what),
                         entry->number != 0);
        break;
    case ENTRY_VERDICT:
        set_verdict(fish, entry);
        break;
    case ENTRY_CLOSE:
        fish->closed = true;
        fish->sent = (enum verdict)entry->number;
        fish->no_place = strcmp(entry->what, CLOSE_NO_PLACE) == 0;
        fish->closed_ms = at_ms;
        fish->closed_look = look;
        break;
    case ENTRY_LENGTH:
        fish->length_mm = entry->number;
        break;
    case ENTRY_TAG:
        text_copy(fish->tag, sizeof fish->tag, entry->text);
        break;
    case ENTRY_NOTE:
        text_copy(fish->note, sizeof fish->note, entry->text);
        break;
    case ENTRY_KIND_COUNT:
        break;
    }
}

/* Would the rules reach a verdict? A verdict by hand is left out: it needs no scores, so it says
 * nothing of whether the look was finished. */
static bool complete(const struct standard *standard, struct judgement judgement)
{
    judgement.by_hand = VERDICT_OPEN;
    return judgement_decide(standard, &judgement).verdict != VERDICT_OPEN;
}

struct judgement fish_deciding(const struct fish *fish, const struct standard *standard)
{
    bool last_is_open = !complete(standard, fish->judgement);
    struct judgement deciding =
        last_is_open && complete(standard, fish->earlier) ? fish->earlier : fish->judgement;
    deciding.by_hand = fish->judgement.by_hand;
    return deciding;
}

struct cached_verdict fish_cached_verdict(const struct fish *fish, const struct standard *standard)
{
    struct judgement deciding = fish_deciding(fish, standard);
    struct cached_verdict cached = cached_verdict_of(standard, &deciding);
    cached.no_place = fish->no_place && cached.verdict == VERDICT_KEEP && cached.could_be_kept;
    return cached;
}
