/* The progress of a round: counts of verdicts, the pace, and the running cut line. The cut line is
 * worked out in whole numbers of fish, never as a share in floating point: a tie is a tie on every
 * machine. It ranks a fish among the whole round rather than dividing the places left among the
 * fish left: that rule was tried, follows every stroke of luck, and keeps poor fish late because
 * good ones were held early (docs/cut-line.md). */
#include "senbetsu/core/progress.h"

void verdict_counts_add(struct verdict_counts *tally, enum verdict verdict)
{
    tally->verdicts[verdict]++;
    if (verdict != VERDICT_OPEN)
        tally->judged++;
}

int verdict_counts_pick(struct verdict_counts *tally, int picked)
{
    int *held = &tally->verdicts[VERDICT_HOLD];
    int moved = picked < *held ? picked : *held;
    *held -= moved;
    tally->verdicts[VERDICT_KEEP] += moved;
    return moved;
}

int pace_per_hour(const int64_t *closed_ms, size_t count)
{
    enum { HOUR_MS = 60 * 60 * 1000 };
    int64_t fish = 0, worked_ms = 0;
    for (size_t i = 1; i < count; i++) {
        int64_t gap = closed_ms[i] - closed_ms[i - 1];
        if (gap < 0 || gap > PACE_BREAK_MS)
            continue;
        fish++;
        worked_ms += gap;
    }
    if (fish + 1 < PACE_FEWEST || worked_ms == 0)
        return 0;
    return (int)((fish * HOUR_MS + worked_ms / 2) / worked_ms);
}

/* How many fish with its score or a better one the next fish may have before it; < 0 = it cannot be
 * among the best, whatever its score. */
static int64_t better_allowed(int judged, int places, int left)
{
    int64_t expected = (int64_t)judged + left;
    if (left == 0)
        return places; /* it is one of those judged */
    return (2 * (int64_t)places * (judged + 1) + expected) / (2 * expected) - 1;
}

struct cut cut_line(const int64_t *scores, size_t count, int judged, int kept, int places, int left,
                    int64_t keep_at)
{
    if (places < 0)
        return (struct cut){.kind = CUT_UNKNOWN};
    if (places <= kept)
        return (struct cut){.kind = CUT_NONE};
    if (left < 0)
        return (struct cut){.kind = CUT_UNKNOWN};
    int64_t better = better_allowed(judged, places, left);
    if (places >= judged + left || better >= (int64_t)count)
        return (struct cut){.kind = CUT_ALL};
    if (better < 0)
        return (struct cut){.kind = CUT_EARLY};
    int64_t score = scores[count - 1 - (size_t)better];
    if (score < keep_at)
        return (struct cut){.kind = CUT_ALL};
    return (struct cut){.kind = CUT_OVER, .score = score};
}

bool cut_has_place(struct cut cut, int64_t score)
{
    return cut.kind == CUT_ALL || cut.kind == CUT_UNKNOWN ||
           (cut.kind == CUT_OVER && score > cut.score);
}
