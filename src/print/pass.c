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

void pass_csv(const struct pass_rows *rows, struct text *out)
{
    struct fish_row row;
    text_add(out, "bowl,fish,score,rank,verdict,reason\n");
    for (size_t i = 0; i < rows->count; i++) {
        rows->row(rows->of, i, &row);
        csv_add_number(out, row.bowl, true);
        csv_add_number(out, row.number, false);
        csv_add(out, row.score, false);
        csv_add_known(out, row.rank > 0, row.rank);
        csv_add(out, verdict_terms[row.verdict].word, false);
        csv_add(out, row.reason, false);
        csv_end_row(out);
    }
}

static void row_at(const struct pass_result *result, size_t place, struct fish_row *ret)
{
    result->rows.row(result->rows.of, result->order[place], ret);
}

/* Where the cut line stands: under the last fish in order of rank that its score keeps; a fish kept
 * by hand may stand below. 0 = on top, for none is. */
static size_t cut_position(const struct pass_result *result)
{
    static const char by_hand[] = "by hand";
    struct fish_row row;
    for (size_t i = result->rows.count; i > 0; i--) {
        row_at(result, i - 1, &row);
        if (row.verdict == VERDICT_KEEP && row.rank > 0 &&
            strncmp(row.reason, by_hand, sizeof by_hand - 1) != 0)
            return i;
    }
    return 0;
}

static void add_ranking(struct page *page, const struct pass_result *result)
{
    static const char columns[] = "  rank   score   bowl   fish   verdict  reason";
    size_t count = result->rows.count, cut = cut_position(result);
    page_blank(page);
    page_add(page, "", columns);
    page_subhead(page, columns);
    for (size_t i = 0; i < count; i++) {
        if (i == cut)
            page_rule(page, "cut line");
        struct fish_row row;
        char rank[16] = "", lead[96];
        row_at(result, i, &row);
        if (row.rank > 0)
            snprintf(rank, sizeof rank, "%d", row.rank);
        snprintf(lead, sizeof lead, "%6s %7s %6d %6d   %-6s   ", rank, row.score, row.bowl,
                 row.number, verdict_terms[row.verdict].word);
        page_add(page, lead, row.reason_label);
    }
    if (count > 0 && cut == count)
        page_rule(page, "cut line");
    page_subhead(page, "");
}

/* The fish that one reason kept from being kept. */
struct reason_count {
    char label[REASON_SIZE];
    int total, verdicts[VERDICT_COUNT];
};

static int by_total(const void *left, const void *right)
{
    const struct reason_count *a = left;
    const struct reason_count *b = right;
    return a->total != b->total ? b->total - a->total : strcmp(a->label, b->label);
}

/* The caller frees them. */
static struct reason_count *count_reasons(const struct pass_rows *rows, size_t *ret_count)
{
    struct reason_count *reasons = NULL;
    size_t count = 0, capacity = 0;
    for (size_t i = 0; i < rows->count; i++) {
        struct fish_row row;
        size_t at = 0;
        rows->row(rows->of, i, &row);
        if (row.verdict == VERDICT_KEEP)
            continue;
        while (at < count && strcmp(reasons[at].label, row.reason_label) != 0)
            at++;
        if (at == count) {
            reasons = alloc_room(reasons, count++, &capacity, sizeof *reasons);
            reasons[at] = (struct reason_count){.total = 0};
            text_copy(reasons[at].label, sizeof reasons[at].label, row.reason_label);
        }
        reasons[at].total++;
        reasons[at].verdicts[row.verdict]++;
    }
    *ret_count = count;
    return reasons;
}

static void add_reasons(struct page *page, const struct pass_rows *rows)
{
    size_t found;
    struct reason_count *reasons = count_reasons(rows, &found);
    if (found > 0)
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
    for (size_t i = 0; i < result->rows.count; i++) {
        struct fish_row row;
        result->rows.row(result->rows.of, i, &row);
        verdict_counts_add(&counts, row.verdict);
    }
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
    add_reasons(&page, &result->rows);
    add_ranking(&page, result);
    page_finish(&page, out);
}
