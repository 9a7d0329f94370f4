/* The progress of a round: counts of verdicts, the pace, and the running cut line. The cut line is
 * compared as whole numbers (fish · fish), never as a share in floating point: a tie is a tie on
 * every machine. docs/cut-line.md works an example. */
#include "senbetsu/core/progress.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

void verdict_counts_add(struct verdict_counts *tally, enum verdict verdict)
{
    tally->verdicts[verdict]++;
    if (verdict != VERDICT_OPEN)
        tally->judged++;
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

static int highest_first(const void *a, const void *b)
{
    int64_t score_a = *(const int64_t *)a, score_b = *(const int64_t *)b;
    return (score_a < score_b) - (score_a > score_b);
}

/* Walks down from the best score as long as the fish to come, kept from there upward, would not
 * take more than the places left. Equal scores stand or fall together. */
static int64_t lowest_that_fits(const int64_t *best_first, size_t count, int judged, int64_t places,
                                int64_t left)
{
    int64_t cut = best_first[0];
    for (size_t i = 0; i < count; i++) {
        bool ends_group = i + 1 == count || best_first[i + 1] != best_first[i];
        if (!ends_group)
            continue;
        if (left * (int64_t)(i + 1) > places * judged)
            break;
        cut = best_first[i];
    }
    return cut;
}

struct cut cut_line(const int64_t *scores, size_t count, int judged, int kept, int places, int left)
{
    if (places < 0)
        return (struct cut){.kind = CUT_UNKNOWN};
    if (places <= kept)
        return (struct cut){.kind = CUT_NONE};
    if (left < 0)
        return (struct cut){.kind = CUT_UNKNOWN};
    if (places - kept >= left)
        return (struct cut){.kind = CUT_ALL};
    if (judged < CUT_FEWEST || count == 0)
        return (struct cut){.kind = CUT_UNKNOWN};
    int64_t *best_first = alloc_zeroed(count, sizeof *best_first);
    memcpy(best_first, scores, count * sizeof *best_first);
    qsort(best_first, count, sizeof *best_first, highest_first);
    int64_t score = lowest_that_fits(best_first, count, judged, places - kept, left);
    free(best_first);
    return (struct cut){.kind = CUT_AT, .score = score};
}
