/* The evening's list: what is taken out of the bowls, signed for on paper by wet hands.
 *
 * The order is that of the work. A round begins with what decided it and its counts, so that a
 * wrong list is noticed before a fish is touched; then basins or bowls, then rejects before holds
 * before fish not judged; keeps need no hand and are only counted. The cautions end every list.
 * Rows stand in fives, the easiest to keep one's place in. */
#include "senbetsu/print/cull_list.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/print/counts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *const cautions[] = {
    "Killing: a fish that no longer breathes is not yet dead, and carp revive. Make it "
    "unconscious, then use a second, physical method, then make sure. Never by chilling, out of "
    "water or by flushing. A vet and local law decide how. See the AVMA Guidelines for the "
    "Euthanasia of Animals and the WOAH Aquatic Code's general principles (its disease chapter "
    "leaves routine culling out).",
    "Dead fish: by the local rule, never into drains or water; never as food or feed if they were "
    "given a drug.",
    "Never release fish: it harms open waters and is unlawful in many places.",
    "Unexplained deaths: stop, move nothing, call the fish health authority (koi herpesvirus, KHV, "
    "is notifiable). Healthy ponds first; disinfect nets and bowls between ponds.",
    "You: gloves, dry floor, low-voltage lamps, mains behind a ground-fault switch (RCD), not "
    "alone.",
    NULL,
};

struct fish_ref *fish_sorted(const struct fish_row *rows, size_t count,
                             int (*compare)(const void *, const void *))
{
    struct fish_ref *order = alloc_zeroed(count + 1, sizeof *order);
    for (size_t i = 0; i < count; i++)
        order[i].row = &rows[i];
    qsort(order, count, sizeof *order, compare);
    return order;
}

/* Large enough for a wet hand. */
#define BOX "[   ]"

enum { ROWS_TOGETHER = 5, FEWEST_WITH_TITLE = 2 };

static void add_part(struct text *out, const char *before, const char *part)
{
    if (*part != '\0')
        text_addf(out, "%s%s%s", out->length > 0 ? "; " : "", before, part);
}

void cull_describe(struct text *out, const struct fish_row *fish)
{
    bool by_score = strcmp(fish->reason, "score") == 0 && *fish->score != '\0';
    add_part(out, "", by_score ? "" : fish->reason_label);
    if (by_score || strcmp(fish->reason, "places") == 0)
        add_part(out, "score ", fish->score);
    add_part(out, "tag ", fish->tag);
    add_part(out, "", fish->since_pass ? "judged after the pass" : "");
    add_part(out, "note: ", fish->note);
}

/* A fish's row: number, box, why it is here. */
static void add_row(struct page *page, const struct fish_row *fish)
{
    char lead[32];
    snprintf(lead, sizeof lead, "%6d   " BOX "   ", fish->number);
    cull_describe(&page->line, fish);
    if (page->line.length == 0)
        page_add(page, lead, "");
    page_line(page, lead);
}

void cull_begin_row(struct page *page, int row)
{
    if (row == FEWEST_WITH_TITLE)
        page_together(page, false);
    if (row > 0 && row % ROWS_TOGETHER == 0)
        page_blank(page);
}

void cull_name_text(struct text *out, const struct cull_round *round)
{
    text_add(out, *round->spawning != '\0' ? round->spawning : "mixed");
    if (*round->variety != '\0')
        text_addf(out, ", %s", round->variety);
    if (*round->lot != '\0' && strcmp(round->lot, round->spawning) != 0)
        text_addf(out, ", lot %s", round->lot);
    text_addf(out, ", %s", stage_terms[round->stage].word);
}

/* Lets a page that begins within this part say where the reader is; no bowl where `bowl` is 0, no
 * part where `title` is "". */
static void set_subhead(struct page *page, const struct cull_round *round, int bowl,
                        const char *title)
{
    struct text subhead;
    text_init(&subhead);
    cull_name_text(&subhead, round);
    if (bowl > 0)
        text_addf(&subhead, ", bowl %d", bowl);
    text_addf(&subhead, "%s%s (continued)", *title != '\0' ? ", " : "", title);
    page_subhead(page, subhead.data);
    text_done(&subhead);
}

/* A place for who did the work and when. */
#define SIGNATURE "  by ______________  date __________  time _______"

void cull_unseen_text(const struct bowl_fish *bowl, struct text *out)
{
    const char *separator = "";
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap); separator = ", ") {
        text_addf(out, "%s%d", separator, gap.first);
        if (gap.last > gap.first)
            text_addf(out, "–%d", gap.last);
    }
}

void cull_count_text(const struct cull_count *count, struct text *out)
{
    int open = cull_not_judged(count);
    int reject = count->fish[VERDICT_REJECT];
    int hold = count->fish[VERDICT_HOLD];
    int keep = count->fish[VERDICT_KEEP];
    text_addf(out, "take out %d, look again %d, keep %d, not judged %d: %d in all", reject, hold,
              keep, open, reject + hold + keep + open);
}

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

/* One reason's fish: boxes in fives, then those that need a row. The reason stands above them. */
static void add_reason(struct page *page, const struct fish_ref *fish, size_t count)
{
    page_addf(page, "  %s: %zu fish", fish[0].row->reason_label, count);
    for (size_t next = 0; next < count; page_together(page, false)) {
        for (int box = 0; box < BOXES_IN_A_LINE && next < count && !needs_row(fish[next].row);
             box++)
            text_addf(&page->line, "%6d " BOX "  ", fish[next++].row->number);
        if (page->line.length > 0) {
            page_line(page, "");
            continue;
        }
        struct fish_row rest = *fish[next++].row;
        rest.reason_label[0] = '\0';
        add_row(page, &rest);
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
    enum verdict sent = basins[basin].verdict;
    int count = count_sent_wrong(round, sent), row = 0;
    if (count == 0)
        return;
    page_blank(page);
    page_together(page, true);
    page_addf(page, "%s: %d", basins[basin].out_of, count);
    for (const struct fish_row *fish = round->fish; fish < round->fish + round->fish_count;
         fish++) {
        if (fish->sent != sent || !lies_wrong(round, fish))
            continue;
        char lead[48];
        snprintf(lead, sizeof lead, "bowl %2d, fish %4d   " BOX "   ", fish->bowl, fish->number);
        cull_begin_row(page, row++);
        for (size_t into = 0; into < BASINS; into++)
            if (basins[into].verdict == fish->verdict)
                text_add(&page->line, basins[into].into);
        cull_describe(&page->line, fish);
        if (fish->length_mm > 0)
            text_addf(&page->line, "; %d mm, %d bu", fish->length_mm,
                      size_class_bu(fish->length_mm));
        page_line(page, lead);
    }
    page_together(page, false);
}

void cull_basin_moves(struct page *page, const struct cull_round *round,
                      const struct cull_count *count)
{
    int moves = 0;
    for (size_t basin = 0; basin < BASINS; basin++)
        moves += count_sent_wrong(round, basins[basin].verdict);
    page_blank(page);
    if (moves > 0) {
        set_subhead(page, round, 0, "MOVE FIRST");
        page_together(page, true);
        page_addf(page, "MOVE FIRST: %d not in the basin of their verdict", moves);
        for (size_t basin = 0; basin < BASINS; basin++)
            add_moves_from(page, round, basin);
    } else
        page_addf(page, "Every fish lies in the basin of its verdict: nothing to move.");
    set_subhead(page, round, 0, "");
    page_blank(page);
    page_together(page, true);
    page_addf(page, "%s the basins of this round hold",
              moves > 0 ? "THEN COUNT: after the moves" : "COUNT:");
    for (size_t basin = 0; basin < REAL_BASINS; basin++)
        page_addf(page, "   %-6s  %6d      counted _________", basins[basin].name,
                  count->fish[basins[basin].verdict]);
    page_together(page, false);
    page_blank(page);
    page_addf(page, "%s" SIGNATURE, moves > 0 ? "Moved and counted" : "Counted");
}

/* What the evening does with a verdict, in the order in which the list has them. */
static const struct {
    enum verdict verdict;
    const char *title, *basin;
} groups[] = {
    {VERDICT_REJECT, "TAKE OUT", ", from the REJECT basin"},
    {VERDICT_HOLD, "LOOK AGAIN", ", from the HOLD basin"},
    {VERDICT_OPEN, "NOT JUDGED", ""},
};
enum { GROUPS = sizeof groups / sizeof *groups };

static void add_count(struct page *page, const char *lead, const struct cull_count *count)
{
    cull_count_text(count, &page->line);
    page_line(page, lead);
}

static void add_group(struct page *page, const struct cull_round *round,
                      const struct bowl_fish *bowl, size_t group, const struct cull_count *count)
{
    enum verdict verdict = groups[group].verdict;
    bool in_basin = round->waiting == WAITING_BASIN;
    int unseen = verdict == VERDICT_OPEN ? count->unseen : 0;
    int moved = count->fish[verdict], row = 0;
    if (count->fish[verdict] + unseen == 0)
        return;
    for (size_t i = 0; i < bowl->count; i++)
        moved -= cull_in_place(round, &bowl->fish[i], verdict);
    set_subhead(page, round, bowl->number, groups[group].title);
    page_blank(page);
    page_together(page, true);
    page_addf(page, "%s: %d%s", groups[group].title, count->fish[verdict] + unseen,
              in_basin ? groups[group].basin : "");
    if (moved > 0)
        page_addf(page, "   %d of them under MOVE FIRST", moved);
    if (in_basin && verdict != VERDICT_OPEN)
        cull_basin_boxes(page, round, bowl, verdict);
    else
        for (size_t i = 0; i < bowl->count; i++)
            if (cull_in_place(round, &bowl->fish[i], verdict)) {
                cull_begin_row(page, row++);
                add_row(page, &bowl->fish[i]);
            }
    if (unseen > 0) {
        cull_unseen_text(bowl, &page->line);
        text_addf(&page->line, " (%d fish)", unseen);
        page_line(page, "   never looked at: ");
    }
    page_together(page, false);
}

static void add_bowl(struct page *page, const struct cull_round *round,
                     const struct bowl_fish *bowl)
{
    struct cull_count count = {0};
    cull_count_add(&count, bowl);
    page_section(page, "Bowl %d", bowl->number);
    set_subhead(page, round, bowl->number, "");
    add_count(page, "", &count);
    if (count.fish[VERDICT_REJECT] == 0)
        page_addf(page, "Nothing to take out.");
    for (size_t group = 0; group < GROUPS; group++)
        add_group(page, round, bowl, group, &count);
    page_together(page, false);
    if (round->waiting != WAITING_CELL)
        return;
    page_blank(page);
    if (count.fish[VERDICT_REJECT] > 0)
        page_addf(page, "Bowl %d: took out ____ of %d" SIGNATURE, bowl->number,
                  count.fish[VERDICT_REJECT]);
    else
        page_addf(page, "Bowl %d: done" SIGNATURE, bowl->number);
}

/* As stated or tallied, else those of the list. */
static int64_t rejects_of(const struct cull_round *round, const struct cull_count *count)
{
    return round->stated ? round->rejected : count->fish[VERDICT_REJECT];
}

/* No fish was judged one by one, but rejects were stated or tallied. */
static bool is_in_numbers(const struct cull_round *round)
{
    return round->fish_count == 0 && round->bowl_count == 0 && round->stated;
}

static struct fates settled(const struct cull_round *round, int64_t rejects)
{
    struct fates fates = round->fates;
    fates_settle(&fates, rejects, round->fate);
    return fates;
}

static void add_fates(struct page *page, const char *lead, const struct fates *fates)
{
    fates_text(fates, &page->line);
    page_line(page, lead);
    if (fates->fish[FATE_PUT_DOWN] > 0)
        page_addf(page, "   put-down: read the cautions at the end before you begin");
}

static void add_round_head(struct page *page, const struct cull_round *round,
                           const struct cull_count *count)
{
    char lead[64];
    int64_t rejects = rejects_of(round, count);
    struct fates fates = settled(round, rejects);
    struct text name;
    text_init(&name);
    cull_name_text(&name, round);
    page_section(page, "%s", name.data);
    text_done(&name);
    page_add(page, "Basis: ", is_in_numbers(round) ? "as stated or tallied" : round->basis);
    if (count->since > 0)
        page_addf(page, "Judged or corrected after that pass: %d fish, marked where listed",
                  count->since);
    if (is_in_numbers(round))
        page_addf(page, "In all: take out %" PRId64 ", none of them by number", round->rejected);
    else
        add_count(page, "In all: ", count);
    snprintf(lead, sizeof lead, "Fate of the %" PRId64 " taken out: ", rejects);
    if (fates_any(&fates))
        add_fates(page, lead, &fates);
    if (fates.fish[FATE_UNDECIDED] > 0) { /* a box for each, to tick on paper */
        page_addf(page,
                  "Fate of %" PRId64 " taken out, not decided yet:", fates.fish[FATE_UNDECIDED]);
        for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
            text_addf(&page->line, BOX " %s   ", fate_terms[fate].word);
        page_line(page, "   ");
    }
    page_together(page, false);
}

static void add_round(struct page *page, const struct cull_round *round)
{
    struct cull_count count = cull_count_round(round);
    add_round_head(page, round, &count);
    if (is_in_numbers(round)) {
        for (size_t i = 0; i < round->reason_count; i++)
            page_addf(page, "%8" PRId64 "  %s", round->reasons[i].fish, round->reasons[i].label);
        page_blank(page);
        page_addf(page, "Took out ____ of %" PRId64 SIGNATURE, round->rejected);
        return;
    }
    if (round->waiting == WAITING_BASIN)
        cull_basin_moves(page, round, &count);
    struct bowl_iterator iterator = {0};
    for (struct bowl_fish bowl; bowl_iterator_next(round, &iterator, &bowl);)
        add_bowl(page, round, &bowl);
}

static void add_totals(struct page *page, const struct cull_list *list)
{
    struct cull_count total = {0};
    struct fates total_fates = {0};
    int64_t in_numbers = 0;
    for (size_t i = 0; i < list->round_count; i++) {
        struct cull_count count = cull_count_round(&list->rounds[i]);
        struct fates fates = settled(&list->rounds[i], rejects_of(&list->rounds[i], &count));
        fates_add(&total_fates, &fates);
        for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
            total.fish[verdict] += count.fish[verdict];
        total.unseen += count.unseen;
        in_numbers += is_in_numbers(&list->rounds[i]) ? list->rounds[i].rejected : 0;
    }
    page_section(page, "All rounds of this list");
    add_count(page, "", &total);
    if (in_numbers > 0)
        page_addf(page, "and take out %" PRId64 " that have no number", in_numbers);
    add_fates(page, "Fates of those taken out: ", &total_fates);
}

void cull_list_print(const struct cull_list *list, struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "Cull list: %s", list->title);
    if (*list->printed != '\0')
        page_heading(&page, "printed %s", list->printed);
    if (list->round_count == 0)
        page_addf(&page, "No round belongs on this list.");
    for (size_t i = 0; i < list->round_count; i++)
        add_round(&page, &list->rounds[i]);
    if (list->round_count > 1)
        add_totals(&page, list);
    page_section(&page, "Cautions");
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        page_add(&page, "- ", *caution);
    page_finish(&page, out);
}

static void csv_row_of(struct text *out, const struct cull_round *round, int bowl, int fish,
                       enum verdict verdict, const char *reason)
{
    csv_add_number(out, bowl, true);
    csv_add_number(out, fish, false);
    csv_add(out, verdict_terms[verdict].word, false);
    csv_add(out, reason, false);
    csv_add(out, verdict == VERDICT_REJECT ? fate_terms[round->fate].word : "", false);
    csv_add(out, round->spawning, false);
    csv_add(out, round->lot, false);
    csv_add(out, stage_terms[round->stage].word, false);
    csv_end_row(out);
}

static void csv_bowl(struct text *out, const struct cull_round *round, const struct bowl_fish *bowl)
{
    for (size_t group = 0; group < GROUPS; group++)
        for (size_t i = 0; i < bowl->count; i++)
            if (bowl->fish[i].verdict == groups[group].verdict)
                csv_row_of(out, round, bowl->number, bowl->fish[i].number, groups[group].verdict,
                           bowl->fish[i].reason);
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap);)
        for (int number = gap.first; number <= gap.last; number++)
            csv_row_of(out, round, bowl->number, number, VERDICT_OPEN, "");
}

void cull_list_csv(const struct cull_list *list, struct text *out)
{
    text_add(out, "bowl,fish,verdict,reason,fate,spawning,lot,stage\n");
    for (size_t i = 0; i < list->round_count; i++) {
        struct bowl_iterator iterator = {0};
        for (struct bowl_fish bowl; bowl_iterator_next(&list->rounds[i], &iterator, &bowl);)
            csv_bowl(out, &list->rounds[i], &bowl);
    }
}
