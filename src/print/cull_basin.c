#include "senbetsu/print/cull_basin.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/print/cull_rows.h"

#include <stdlib.h>
#include <string.h>

enum { BOXES_IN_A_LINE = 5 };

/* The basins in the order in which they are searched for fish that lie wrong: a keep must be out of
 * the rejects before these are taken away. VERDICT_OPEN = in none. */
static const struct {
    enum verdict verdict;
    const char *name, *out_of, *into;
} basins[] = {
    {VERDICT_REJECT, "REJECT", "Out of the REJECT basin", "into REJECT"},
    {VERDICT_HOLD, "HOLD", "Out of the HOLD basin", "into HOLD"},
    {VERDICT_KEEP, "KEEP", "Out of the KEEP basin", "into KEEP"},
    {VERDICT_OPEN, "", "In no basin yet", "to be judged"},
};
enum { BASINS = sizeof basins / sizeof *basins, REAL_BASINS = BASINS - 1 };

static const char *way_into(enum verdict verdict)
{
    size_t i = 0;
    while (basins[i].verdict != verdict)
        i++;
    return basins[i].into;
}

/* In another basin than its verdict's, or in none though it has a verdict. */
static bool lies_wrong(const struct cull_round *round, const struct fish_row *fish)
{
    return round->waiting == WAITING_BASIN && fish->sent != fish->verdict;
}

bool cull_in_place(const struct cull_round *round, const struct fish_row *fish,
                   enum verdict verdict)
{
    return fish->verdict == verdict && !lies_wrong(round, fish);
}

static void add_row_to_move(struct page *page, const struct fish_row *fish)
{
    struct text lead, why;
    text_init(&lead);
    text_init(&why);
    text_addf(&lead, "bowl %2d, fish %4d   " CULL_BOX "   ", fish->bowl, fish->number);
    text_add(&why, way_into(fish->verdict));
    cull_describe(&why, fish);
    if (fish->length_mm > 0)
        text_addf(&why, "; %d mm, %d bu", fish->length_mm, size_class_bu(fish->length_mm));
    page_add(page, lead.data, why.data);
    text_done(&lead);
    text_done(&why);
}

/* In a basin a box with a number is not enough for this fish. */
static bool needs_row(const struct fish_row *fish)
{
    return *fish->tag != '\0' || fish->since_pass;
}

/* By reason, those with rows of their own last, then by number. */
static int by_reason(const void *left, const void *right)
{
    const struct fish_row *a = ((const struct fish_ref *)left)->row;
    const struct fish_row *b = ((const struct fish_ref *)right)->row;
    int order = strcmp(a->reason_label, b->reason_label);
    if (order == 0)
        order = (int)needs_row(a) - (int)needs_row(b);
    return order != 0 ? order : a->number - b->number;
}

/* How many of the sorted `fish` have the first one's reason. */
static size_t reason_run(const struct fish_ref *fish, size_t count)
{
    size_t run = 1;
    while (run < count && strcmp(fish[run].row->reason_label, fish[0].row->reason_label) == 0)
        run++;
    return run;
}

/* The reason stands above. */
static void add_row_of_reason(struct page *page, const struct fish_row *fish)
{
    struct fish_row rest = *fish;
    rest.reason_label[0] = '\0';
    cull_add_row(page, &rest);
}

/* One reason's fish: boxes in fives, then those that need a row. */
static void add_reason(struct page *page, const struct fish_ref *fish, size_t count)
{
    page_addf(page, "  %s: %zu fish", fish[0].row->reason_label, count);
    size_t next = 0;
    while (next < count && !needs_row(fish[next].row)) {
        struct text line;
        text_init(&line);
        for (int box = 0; box < BOXES_IN_A_LINE && next < count && !needs_row(fish[next].row);
             box++)
            text_addf(&line, "%6d " CULL_BOX "  ", fish[next++].row->number);
        page_add(page, "", line.data);
        text_done(&line);
        page_together(page, false);
    }
    for (; next < count; next++) {
        add_row_of_reason(page, fish[next].row);
        page_together(page, false);
    }
}

void cull_basin_boxes(struct page *page, const struct cull_round *round,
                      const struct bowl_fish *bowl, enum verdict verdict)
{
    struct fish_ref *fish = fish_sorted(bowl->fish, bowl->count, by_reason);
    size_t count = 0;
    for (size_t i = 0; i < bowl->count; i++)
        if (cull_in_place(round, fish[i].row, verdict))
            fish[count++] = fish[i];
    for (size_t at = 0, run; at < count; at += run) {
        run = reason_run(fish + at, count - at);
        add_reason(page, fish + at, run);
        page_together(page, at + run < count);
    }
    free(fish);
}

static int count_sent_wrong(const struct cull_round *round, enum verdict sent)
{
    int count = 0;
    for (size_t i = 0; i < round->fish_count; i++)
        count += round->fish[i].sent == sent && lies_wrong(round, &round->fish[i]);
    return count;
}

static void add_moves_from(struct page *page, const struct cull_round *round, size_t basin)
{
    int count = count_sent_wrong(round, basins[basin].verdict);
    if (count == 0)
        return;
    page_blank(page);
    page_together(page, true);
    page_addf(page, "%s: %d", basins[basin].out_of, count);
    int row = 0;
    for (size_t i = 0; i < round->fish_count; i++)
        if (round->fish[i].sent == basins[basin].verdict && lies_wrong(round, &round->fish[i])) {
            cull_begin_row(page, row++);
            add_row_to_move(page, &round->fish[i]);
        }
    page_together(page, false);
}

/* Returns how many there are to move. */
static int add_moves(struct page *page, const struct cull_round *round)
{
    int count = 0;
    for (size_t basin = 0; basin < BASINS; basin++)
        count += count_sent_wrong(round, basins[basin].verdict);
    page_blank(page);
    if (count == 0) {
        page_addf(page, "Every fish lies in the basin of its verdict: nothing to move.");
        return 0;
    }
    cull_set_subhead(page, round, 0, "MOVE FIRST");
    page_together(page, true);
    page_addf(page, "MOVE FIRST: %d not in the basin of their verdict", count);
    for (size_t basin = 0; basin < BASINS; basin++)
        add_moves_from(page, round, basin);
    return count;
}

static void add_basin_counts(struct page *page, const struct cull_round *round,
                             const struct cull_count *count, bool moved)
{
    cull_set_subhead(page, round, 0, "");
    page_blank(page);
    page_together(page, true);
    page_addf(page, "%s the basins of this round hold",
              moved ? "THEN COUNT: after the moves" : "COUNT:");
    for (size_t basin = 0; basin < REAL_BASINS; basin++)
        page_addf(page, "   %-6s  %6d      counted _________", basins[basin].name,
                  count->fish[basins[basin].verdict]);
    page_together(page, false);
    cull_add_signature(page, moved ? "Moved and counted" : "Counted");
}

void cull_basin_moves(struct page *page, const struct cull_round *round,
                      const struct cull_count *count)
{
    int moved = add_moves(page, round);
    add_basin_counts(page, round, count, moved > 0);
}
