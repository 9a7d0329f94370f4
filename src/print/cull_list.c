#include "senbetsu/print/cull_list.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/print/cautions.h"
#include "senbetsu/print/cull_basin.h"
#include "senbetsu/print/cull_bowl.h"
#include "senbetsu/print/cull_rows.h"
#include "senbetsu/print/fates_text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

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

static void sign_bowl(struct page *page, int bowl, int rejects)
{
    char work[64];
    if (rejects > 0)
        snprintf(work, sizeof work, "Bowl %d: took out ____ of %d", bowl, rejects);
    else
        snprintf(work, sizeof work, "Bowl %d: done", bowl);
    cull_add_signature(page, work);
}

static void add_count(struct page *page, const char *lead, const struct cull_count *count)
{
    struct text text;
    text_init(&text);
    cull_count_text(count, &text);
    page_add(page, lead, text.data);
    text_done(&text);
}

static void add_rows(struct page *page, const struct cull_round *round,
                     const struct bowl_fish *bowl, enum verdict verdict)
{
    int row = 0;
    for (size_t i = 0; i < bowl->count; i++)
        if (cull_in_place(round, &bowl->fish[i], verdict)) {
            cull_begin_row(page, row++);
            cull_add_row(page, &bowl->fish[i]);
        }
}

static void add_unseen(struct page *page, const struct bowl_fish *bowl, int unseen)
{
    if (unseen == 0)
        return;
    struct text numbers;
    text_init(&numbers);
    cull_unseen_text(bowl, &numbers);
    text_addf(&numbers, " (%d fish)", unseen);
    page_add(page, "   never looked at: ", numbers.data);
    text_done(&numbers);
}

static int count_in_group(const struct cull_round *round, const struct bowl_fish *bowl,
                          enum verdict verdict)
{
    int count = 0;
    for (size_t i = 0; i < bowl->count; i++)
        count += cull_in_place(round, &bowl->fish[i], verdict);
    return count;
}

static void add_group(struct page *page, const struct cull_round *round,
                      const struct bowl_fish *bowl, size_t group, const struct cull_count *count)
{
    enum verdict verdict = groups[group].verdict;
    int unseen = verdict == VERDICT_OPEN ? count->unseen : 0;
    int moved = count->fish[verdict] - count_in_group(round, bowl, verdict);
    if (count->fish[verdict] + unseen == 0)
        return;
    cull_set_subhead(page, round, bowl->number, groups[group].title);
    page_blank(page);
    page_together(page, true);
    page_addf(page, "%s: %d%s", groups[group].title, count->fish[verdict] + unseen,
              round->waiting == WAITING_BASIN ? groups[group].basin : "");
    if (moved > 0)
        page_addf(page, "   %d of them under MOVE FIRST", moved);
    if (round->waiting == WAITING_BASIN && verdict != VERDICT_OPEN)
        cull_basin_boxes(page, round, bowl, verdict);
    else
        add_rows(page, round, bowl, verdict);
    add_unseen(page, bowl, unseen);
    page_together(page, false);
}

static void add_bowl(struct page *page, const struct cull_round *round,
                     const struct bowl_fish *bowl)
{
    char name[32];
    snprintf(name, sizeof name, "Bowl %d", bowl->number);
    struct cull_count count = {0};
    cull_count_add(&count, bowl);
    cull_set_subhead(page, round, bowl->number, "");
    page_blank(page);
    page_together(page, true);
    page_rule(page, name);
    add_count(page, "", &count);
    if (count.fish[VERDICT_REJECT] == 0)
        page_addf(page, "Nothing to take out.");
    for (size_t group = 0; group < GROUPS; group++)
        add_group(page, round, bowl, group, &count);
    page_together(page, false);
    if (round->waiting == WAITING_CELL)
        sign_bowl(page, bowl->number, count.fish[VERDICT_REJECT]);
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

/* A box for each fate, to tick on paper. */
static void add_choice_of_fate(struct page *page, int64_t undecided)
{
    struct text boxes;
    text_init(&boxes);
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        text_addf(&boxes, CULL_BOX " %s   ", fate_terms[fate].word);
    page_addf(page, "Fate of %" PRId64 " taken out, not decided yet:", undecided);
    page_add(page, "   ", boxes.data);
    text_done(&boxes);
}

static void add_fates(struct page *page, const char *lead, const struct fates *fates)
{
    struct text text;
    text_init(&text);
    fates_text(fates, &text);
    if (text.length > 0)
        page_add(page, lead, text.data);
    if (fates->fish[FATE_PUT_DOWN] > 0)
        page_addf(page, "   put-down: read the cautions at the end before you begin");
    text_done(&text);
}

static void add_fate(struct page *page, const struct cull_round *round, int64_t rejects)
{
    char lead[64];
    struct fates fates = settled(round, rejects);
    snprintf(lead, sizeof lead, "Fate of the %" PRId64 " taken out: ", rejects);
    if (fates_any(&fates))
        add_fates(page, lead, &fates);
    if (fates.fish[FATE_UNDECIDED] > 0)
        add_choice_of_fate(page, fates.fish[FATE_UNDECIDED]);
}

static void add_round_head(struct page *page, const struct cull_round *round,
                           const struct cull_count *count)
{
    struct text name;
    text_init(&name);
    cull_name_text(&name, round);
    page_subhead(page, "");
    page_blank(page);
    page_together(page, true);
    page_rule(page, name.data);
    page_add(page, "Basis: ", is_in_numbers(round) ? "as stated or tallied" : round->basis);
    if (count->since > 0)
        page_addf(page, "Judged or corrected after that pass: %d fish, marked where listed",
                  count->since);
    if (is_in_numbers(round))
        page_addf(page, "In all: take out %" PRId64 ", none of them by number", round->rejected);
    else
        add_count(page, "In all: ", count);
    add_fate(page, round, rejects_of(round, count));
    page_together(page, false);
    text_done(&name);
}

static void add_numbers(struct page *page, const struct cull_round *round)
{
    char work[64];
    for (size_t i = 0; i < round->reason_count; i++)
        page_addf(page, "%8" PRId64 "  %s", round->reasons[i].fish, round->reasons[i].label);
    snprintf(work, sizeof work, "Took out ____ of %" PRId64, round->rejected);
    cull_add_signature(page, work);
}

static void add_round(struct page *page, const struct cull_round *round)
{
    struct cull_count count = cull_count_round(round);
    add_round_head(page, round, &count);
    if (is_in_numbers(round)) {
        add_numbers(page, round);
        return;
    }
    if (round->waiting == WAITING_BASIN)
        cull_basin_moves(page, round, &count);
    struct bowl_walk walk = {0};
    for (struct bowl_fish bowl; bowl_walk_next(round, &walk, &bowl);)
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
    page_subhead(page, "");
    page_blank(page);
    page_together(page, true);
    page_rule(page, "All rounds of this list");
    add_count(page, "", &total);
    if (in_numbers > 0)
        page_addf(page, "and take out %" PRId64 " that have no number", in_numbers);
    add_fates(page, "Fates of those taken out: ", &total_fates);
    page_together(page, false);
}

static void add_cautions(struct page *page)
{
    page_subhead(page, "");
    page_blank(page);
    page_together(page, true);
    page_rule(page, "Cautions");
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        page_add(page, "- ", *caution);
    page_together(page, false);
}

void cull_list_print(const struct cull_list *list, struct page_setup setup, struct text *out)
{
    struct page page;
    char heading[160];
    page_init(&page, setup);
    snprintf(heading, sizeof heading, "Cull list: %s", list->title);
    page_heading(&page, heading);
    if (*list->printed != '\0') {
        snprintf(heading, sizeof heading, "printed %s", list->printed);
        page_heading(&page, heading);
    }
    if (list->round_count == 0)
        page_addf(&page, "No round belongs on this list.");
    for (size_t i = 0; i < list->round_count; i++)
        add_round(&page, &list->rounds[i]);
    if (list->round_count > 1)
        add_totals(&page, list);
    add_cautions(&page);
    page_write(&page, out);
    page_done(&page);
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
        struct bowl_walk walk = {0};
        for (struct bowl_fish bowl; bowl_walk_next(&list->rounds[i], &walk, &bowl);)
            csv_bowl(out, &list->rounds[i], &bowl);
    }
}
