/* The result of a pass: how many are kept and how sure that share is, why the others are not, and
 * every fish by rank.
 *
 * The cut line shows at a glance how close the fish around it are, which is what the breeder looks
 * at before he moves a threshold or a place. */
#include "senbetsu/print/pass.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/core/progress.h"
#include "senbetsu/stats/proportion.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void pass_csv(const struct fish_row *rows, size_t count, struct text *out)
{
    text_add(out, "bowl,fish,score,rank,verdict,reason\n");
    for (const struct fish_row *row = rows; row < rows + count; row++) {
        csv_add_number(out, row->bowl, true);
        csv_add_number(out, row->number, false);
        csv_add(out, row->score, false);
        csv_add_known(out, row->rank > 0, row->rank);
        csv_add(out, verdict_terms[row->verdict].word, false);
        csv_add(out, row->reason, false);
        csv_end_row(out);
    }
}

/* Rows in another order, without copying them. */
struct fish_ref {
    const struct fish_row *row;
};

/* Free with free(). */
static struct fish_ref *fish_sorted(const struct fish_row *rows, size_t count,
                                    int (*compare)(const void *, const void *))
{
    struct fish_ref *order = alloc_zeroed(count + 1, sizeof *order);
    for (size_t i = 0; i < count; i++)
        order[i].row = &rows[i];
    qsort(order, count, sizeof *order, compare);
    return order;
}

/* Best first, those without a rank last; by bowl and number where the rank is the same. */
static int by_rank(const void *left, const void *right)
{
    const struct fish_row *a = ((const struct fish_ref *)left)->row;
    const struct fish_row *b = ((const struct fish_ref *)right)->row;
    int order = rank_compare(a->rank, b->rank);
    if (order != 0)
        return order;
    return a->bowl != b->bowl ? a->bowl - b->bowl : a->number - b->number;
}

static int by_reason(const void *left, const void *right)
{
    const struct fish_row *a = ((const struct fish_ref *)left)->row;
    const struct fish_row *b = ((const struct fish_ref *)right)->row;
    return strcmp(a->reason_label, b->reason_label);
}

/* Where the cut line stands: under the last fish in order of rank that its score keeps; a fish kept
 * by hand may stand below. 0 = on top, for none is. */
static size_t cut_position(const struct fish_ref *order, size_t count)
{
    static const char by_hand[] = "by hand";
    for (size_t i = count; i > 0; i--)
        if (order[i - 1].row->verdict == VERDICT_KEEP && order[i - 1].row->rank > 0 &&
            strncmp(order[i - 1].row->reason, by_hand, sizeof by_hand - 1) != 0)
            return i;
    return 0;
}

static void add_ranking(struct page *page, const struct fish_row *rows, size_t count)
{
    static const char columns[] = "  rank   score   bowl   fish   verdict  reason";
    struct fish_ref *order = fish_sorted(rows, count, by_rank);
    size_t cut = cut_position(order, count);
    page_blank(page);
    page_add(page, "", columns);
    page_subhead(page, columns);
    for (size_t i = 0; i < count; i++) {
        if (i == cut)
            page_rule(page, "cut line");
        const struct fish_row *row = order[i].row;
        char rank[16] = "", lead[96];
        if (row->rank > 0)
            snprintf(rank, sizeof rank, "%d", row->rank);
        snprintf(lead, sizeof lead, "%6s %7s %6d %6d   %-6s   ", rank, row->score, row->bowl,
                 row->number, verdict_terms[row->verdict].word);
        page_add(page, lead, row->reason_label);
    }
    if (count > 0 && cut == count)
        page_rule(page, "cut line");
    page_subhead(page, "");
    free(order);
}

/* The fish that one reason kept from being kept. */
struct reason_count {
    const char *label;
    int total, verdicts[VERDICT_COUNT];
};

static int by_total(const void *left, const void *right)
{
    const struct reason_count *a = left;
    const struct reason_count *b = right;
    return a->total != b->total ? b->total - a->total : strcmp(a->label, b->label);
}

/* Counts into `ret`, which has room for `count`; returns how many reasons there are. */
static size_t count_reasons(const struct fish_row *rows, size_t count, struct reason_count *ret)
{
    struct fish_ref *order = fish_sorted(rows, count, by_reason);
    size_t reasons = 0;
    for (size_t i = 0; i < count; i++) {
        const char *label = order[i].row->reason_label;
        if (order[i].row->verdict == VERDICT_KEEP)
            continue;
        if (reasons == 0 || strcmp(ret[reasons - 1].label, label) != 0)
            ret[reasons++] = (struct reason_count){.label = label};
        ret[reasons - 1].total++;
        ret[reasons - 1].verdicts[order[i].row->verdict]++;
    }
    free(order);
    return reasons;
}

static void add_reasons(struct page *page, const struct fish_row *rows, size_t count)
{
    struct reason_count *reasons = alloc_zeroed(count + 1, sizeof *reasons);
    size_t found = count_reasons(rows, count, reasons);
    qsort(reasons, found, sizeof *reasons, by_total);
    page_blank(page);
    if (found > 0)
        page_addf(page, "  take out   look again   not judged   main reason");
    for (size_t i = 0; i < found; i++) {
        char lead[64];
        snprintf(lead, sizeof lead, "%10d %12d %12d   ", reasons[i].verdicts[VERDICT_REJECT],
                 reasons[i].verdicts[VERDICT_HOLD], reasons[i].verdicts[VERDICT_OPEN]);
        page_add(page, lead, reasons[i].label);
    }
    free(reasons);
}

void pass_print(const struct pass_result *result, struct page_setup setup, struct text *out)
{
    struct page page;
    struct verdict_counts counts = {0};
    for (size_t i = 0; i < result->count; i++)
        verdict_counts_add(&counts, result->rows[i].verdict);
    verdict_counts_pick(&counts, result->picked);
    int kept = counts.verdicts[VERDICT_KEEP];
    int open = counts.verdicts[VERDICT_OPEN] + result->unseen;
    page_start(&page, setup, "%s", result->title);
    if (open > 0) {
        page_addf(&page, "not done: %d of %d judged, %d kept of them; no rate before the rest is",
                  counts.judged, counts.judged + open, kept);
    } else if (counts.judged > 0) {
        struct interval interval = wilson_interval(kept, counts.judged, CONFIDENCE_LEVEL);
        page_addf(&page, "kept %d of %d: %.0f %%, 95 %% interval %.0f–%.0f %%", kept, counts.judged,
                  100.0 * kept / counts.judged, 100 * interval.low, 100 * interval.high);
    }
    page_addf(&page, "look again %d, take out %d, not judged %d", counts.verdicts[VERDICT_HOLD],
              counts.verdicts[VERDICT_REJECT], open);
    if (result->picked > 0)
        page_addf(&page, "%d of the kept were picked in a closer look at the basins",
                  result->picked);
    if (*result->open != '\0')
        page_addf(&page, "%s.", result->open);
    add_reasons(&page, result->rows, result->count);
    add_ranking(&page, result->rows, result->count);
    page_finish(&page, out);
}
