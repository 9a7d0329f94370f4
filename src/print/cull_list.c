/* The evening's list: what is done with the fish of a round, by somebody who was not there, at
 * night and with wet hands.
 *
 * So its order is that of the work. First what the list rests on, for a wrong list must be noticed
 * before a fish is touched; then the cautions, for they must be read before one is killed; then a
 * step after the other: where, how many, and only then which. Each step can be done as it stands:
 * a number is named only where it still finds the fish. Numbers stand in fives, the easiest to keep
 * one's place in, in the order in which a hand comes to them. */
#include "senbetsu/print/cull_list.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/print/cautions.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/basins.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* Large enough for a wet hand. */
#define BOX "[   ]"
#define STEP " " BOX " "
#define NO_STEP "       "

/* Before what must not be overlooked. */
#define MIND "! "

/* A place for who did the work and when. */
#define SIGNATURE "by ______________  date __________  time _______"

enum { BOXES_IN_A_LINE = 5 };

void cull_name_text(struct text *out, const struct cull_round *round)
{
    text_add(out, *round->spawning != '\0' ? round->spawning : "mixed");
    if (*round->variety != '\0')
        text_addf(out, ", %s", round->variety);
    if (*round->lot != '\0' && strcmp(round->lot, round->spawning) != 0)
        text_addf(out, ", lot %s", round->lot);
    text_addf(out, ", %s", stage_terms[round->stage].word);
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

static const char *about(const struct cull_round *round)
{
    return round->estimated ? "about " : "";
}

/* What the list rests on. */

static void add_judged(struct page *page, const struct cull_round *round)
{
    struct text *line = &page->line;
    text_add(line, *round->first_day != '\0' ? round->first_day : "on no day yet");
    if (strcmp(round->first_day, round->last_day) != 0)
        text_addf(line, " to %s", round->last_day);
    if (*round->judges != '\0')
        text_addf(line, " by %s", round->judges);
    page_line(page, is_in_numbers(round) ? "Tallied: " : "Judged: ");
    if (*round->not_done != '\0')
        page_add(page, MIND, round->not_done);
}

static void add_places(struct text *line, int places)
{
    if (places >= 0)
        text_addf(line, "; %d place%s", places, places == 1 ? "" : "s");
}

static void add_pass(struct page *page, const struct cull_round *round)
{
    if (*round->passed == '\0')
        page_addf(page, "Pass: none yet; fish stand as they were judged at the bowl.");
    else
        page_addf(page, "Pass: %s", round->passed);
    if (*round->outdated != '\0')
        page_item(page, MIND,
                  "The pass is out of date: %s. Pass again (key 5 on the round) and print a new "
                  "list.",
                  round->outdated);
}

/* In basins the list itself has tied fish picked; in cells the screen brings each up. */
static void add_left_open(struct page *page, const struct cull_round *round)
{
    struct basins basins = basins_of(round);
    if (*round->left_open == '\0')
        return;
    if (round->waiting == WAITING_BASIN && cull_tie_of(round).fish > 0)
        page_item(page, MIND,
                  "%s. They are picked below, so that then %d are kept and %d are held; enter it "
                  "(closer look, keys 5 5 on the round).",
                  round->left_open, basins.after[VERDICT_KEEP], basins.after[VERDICT_HOLD]);
    else
        page_item(page, MIND,
                  "%s. A closer look decides that (keys 5 5 on the round); then print a new list.",
                  round->left_open);
}

static void add_fates(struct page *page, const struct fates *fates)
{
    if (fates_any(fates)) {
        fates_text(fates, &page->line);
        page_line(page, "Rejects go: ");
    }
    if (fates->fish[FATE_UNDECIDED] <= 0)
        return;
    bool one = fates->fish[FATE_UNDECIDED] == 1;
    page_item(page, MIND,
              "It is not decided where %" PRId64
              " reject%s: leave %s in the water until somebody says. "
              "Tick it here, and enter it on the round (key -).",
              fates->fish[FATE_UNDECIDED], one ? " goes" : "s go", one ? "it" : "them");
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        text_addf(&page->line, BOX " %s   ", fate_terms[fate].word);
    page_line(page, "   ");
}

static void add_basis(struct page *page, const struct cull_round *round)
{
    struct cull_count count = cull_count_round(round);
    int64_t rejects = rejects_of(round, &count);
    struct fates fates = settled(round, rejects);
    struct text name;
    text_init(&name);
    cull_name_text(&name, round);
    page_section(page, "%s", name.data);
    text_done(&name);
    if (*round->pond != '\0')
        page_addf(page, "Pond: %s", round->pond);
    add_judged(page, round);
    if (is_in_numbers(round)) {
        page_addf(page, "In all: take out %s%" PRId64 ", none of them by number", about(round),
                  round->rejected);
    } else {
        text_add(&page->line, round->standard);
        add_places(&page->line, round->places);
        page_line(page, "Standard: ");
        add_pass(page, round);
        cull_count_text(&count, &page->line);
        page_line(page, "In all: ");
        add_left_open(page, round);
    }
    add_fates(page, &fates);
    page_together(page, false);
}

/* The last step: rejects leave, to where it was decided. */
static void add_all_out(struct page *page, const char *where, int64_t rejects,
                        const struct fates *fates)
{
    if (rejects == 0) {
        page_addf(page, NO_STEP "Nothing to take out.");
        return;
    }
    if (fates_any(fates))
        fates_text(fates, &page->line);
    page_item(page, STEP, "%s: %" PRId64 " fish, all out%s%s.", where, rejects,
              fates_any(fates) ? ": " : " once it is decided where to", page->line.data);
    text_clear(&page->line);
}

/* Cells: the number finds the fish. */

static void add_part(struct text *out, const char *before, const char *part)
{
    if (*part != '\0')
        text_addf(out, "%s%s%s", out->length > 0 ? "; " : "", before, part);
}

void cull_describe(struct text *out, const struct fish_row *fish)
{
    add_part(out, "tag ", fish->tag);
    add_part(out, "", fish->since_pass ? "judged after the pass" : "");
    add_part(out, "note: ", fish->note);
}

void cull_unseen_text(const struct bowl_fish *bowl, struct text *out)
{
    const char *separator = "";
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap); separator = ", ") {
        text_addf(out, "%s%d", separator, gap.first);
        if (gap.last > gap.first)
            text_addf(out, "–%d", gap.last);
    }
}

static void add_boxes(struct page *page, const struct bowl_fish *bowl)
{
    int boxes = 0;
    for (size_t i = 0; i < bowl->count; i++) {
        if (bowl->fish[i].verdict != VERDICT_REJECT)
            continue;
        text_addf(&page->line, "%6d " BOX "  ", bowl->fish[i].number);
        if (++boxes % BOXES_IN_A_LINE == 0)
            page_line(page, "");
    }
    page_line(page, "");
}

static void add_remarks(struct page *page, const struct bowl_fish *bowl)
{
    for (size_t i = 0; i < bowl->count; i++) {
        char lead[32];
        if (bowl->fish[i].verdict != VERDICT_REJECT)
            continue;
        snprintf(lead, sizeof lead, "%6d: ", bowl->fish[i].number);
        cull_describe(&page->line, &bowl->fish[i]);
        page_line(page, lead);
    }
}

static bool same_reject(const struct fish_row *a, const struct fish_row *b)
{
    return a->verdict == VERDICT_REJECT && b->verdict == VERDICT_REJECT &&
           strcmp(a->reason_label, b->reason_label) == 0;
}

/* "Bent spine 7, low score 3": what the fish in hand should look like. */
static void add_reasons(struct text *out, const struct fish_row *fish, size_t count)
{
    const char *separator = "";
    for (size_t i = 0; i < count; i++) {
        int before = 0, with = 0;
        for (size_t j = 0; j < count; j++)
            *(j < i ? &before : &with) += same_reject(&fish[j], &fish[i]);
        if (before > 0 || with == 0)
            continue;
        bool by_score = strcmp(fish[i].reason, "score") == 0;
        text_addf(out, "%s%s %d", separator, by_score ? "low score" : fish[i].reason_label, with);
        separator = ", ";
    }
}

static void add_numbers(struct text *out, const struct bowl_fish *bowl, enum verdict verdict)
{
    for (size_t i = 0; i < bowl->count; i++)
        if (bowl->fish[i].verdict == verdict)
            text_addf(out, "%s%d", out->length > 0 ? ", " : "", bowl->fish[i].number);
}

/* "3", or "3 (far ponds)" where there are two. */
static void add_bowl_title(struct text *out, const struct bowl_fish *bowl)
{
    text_addf(out, "%d", bowl->number);
    if (bowl->station[0] != '\0')
        text_addf(out, " (%s)", bowl->station);
}

/* Lets a page that begins within a bowl say where the reader is. */
static void set_subhead(struct page *page, const struct cull_round *round,
                        const struct bowl_fish *bowl)
{
    struct text subhead;
    text_init(&subhead);
    cull_name_text(&subhead, round);
    if (bowl != NULL) {
        text_add(&subhead, ", bowl ");
        add_bowl_title(&subhead, bowl);
    }
    text_add(&subhead, " (continued)");
    page_subhead(page, subhead.data);
    text_done(&subhead);
}

/* Two stations may each have judged a fish of one number in one bowl. */
static void add_twins(struct text *out, const struct bowl_fish *bowl)
{
    for (size_t i = 1; i < bowl->count; i++)
        if (bowl->fish[i].number == bowl->fish[i - 1].number)
            text_addf(out, "%s%d", out->length > 0 ? ", " : "", bowl->fish[i].number);
}

static void add_cells(struct page *page, const struct cull_round *round,
                      const struct bowl_fish *bowl)
{
    struct cull_count count = {0};
    cull_count_add(&count, bowl);
    int rejects = count.fish[VERDICT_REJECT];
    page_blank(page);
    page_together(page, true);
    set_subhead(page, round, bowl);
    text_add(&page->line, "Bowl ");
    add_bowl_title(&page->line, bowl);
    if (rejects > 0) {
        text_addf(&page->line, ": take out %d of %d (", rejects,
                  rejects + count.fish[VERDICT_HOLD] + count.fish[VERDICT_KEEP] +
                      cull_not_judged(&count));
        add_reasons(&page->line, bowl->fish, bowl->count);
        text_addf(&page->line, "). Took out ____");
        page_line(page, "");
    } else {
        text_add(&page->line, ": nothing to take out");
        page_line(page, "");
    }
    add_boxes(page, bowl);
    add_twins(&page->line, bowl);
    page_line(page, "   TWO FISH of this number, of two stations, look at both first: ");
    add_remarks(page, bowl);
    add_numbers(&page->line, bowl, VERDICT_HOLD);
    page_line(page, "   stay for the second look: ");
    add_numbers(&page->line, bowl, VERDICT_OPEN);
    page_line(page, "   not judged yet, stay: ");
    cull_unseen_text(bowl, &page->line);
    page_line(page, "   never looked at, stay: ");
    page_together(page, false);
}

static void add_cell_work(struct page *page, const struct cull_round *round)
{
    struct bowl_iterator iterator = {0};
    page_addf(page,
              "Each fish is in the cell with its number. Tick a box when its fish is out, not "
              "before.");
    for (struct bowl_fish bowl; bowl_iterator_next(round, &iterator, &bowl);)
        add_cells(page, round, &bowl);
}

/* Basins: only a tag finds a certain fish; of the others so many are picked by eye. */

/* In the order in which they are gone through: a keep must be out of the rejects before these are
 * taken away. */
static const struct {
    enum verdict verdict;
    const char *name, *into;
    const char *which[VERDICT_COUNT]; /* are picked for each of the others */
    const char *wait;                 /* of the rest; NULL = they all go out */
} basin_rows[] = {
    {VERDICT_REJECT,
     "Reject basin",
     "to the rejects",
     {[VERDICT_KEEP] = "best", [VERDICT_HOLD] = "best"},
     NULL},
    {VERDICT_HOLD,
     "Hold basin",
     "to the held",
     {[VERDICT_KEEP] = "best", [VERDICT_REJECT] = "worst"},
     " for the second look"},
    {VERDICT_KEEP,
     "Keep basin",
     "to the kept",
     {[VERDICT_HOLD] = "weakest", [VERDICT_REJECT] = "worst"},
     ""},
};
enum { BASINS = sizeof basin_rows / sizeof *basin_rows };

static const char *into(enum verdict verdict)
{
    for (size_t i = 0; i < BASINS; i++)
        if (basin_rows[i].verdict == verdict)
            return basin_rows[i].into;
    return "to be judged again";
}

static const char *separator(const struct text *out)
{
    return out->length > 0 ? "; " : "";
}

/* What is picked out of a basin, the best first. */
static void add_picks(struct text *out, size_t row, const struct basin *basin)
{
    static const enum verdict order[] = {VERDICT_KEEP, VERDICT_HOLD, VERDICT_REJECT};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        int fish = basin->out[order[i]];
        if (fish > 0)
            text_addf(out, "%spick the %s %d, put %s %s", separator(out),
                      basin_rows[row].which[order[i]], fish, fish == 1 ? "it" : "them",
                      into(order[i]));
    }
    if (basin->out[VERDICT_OPEN] > 0)
        text_addf(out, "%spick %d to be judged again", separator(out), basin->out[VERDICT_OPEN]);
}

static void add_tagged(struct page *page, const struct cull_round *round, enum verdict basin)
{
    for (size_t i = 0; i < round->fish_count; i++) {
        const struct fish_row *fish = &round->fish[i];
        if (fish->sent != basin || !basin_is_wrong(fish) || *fish->tag == '\0')
            continue;
        cull_describe(&page->line, fish);
        text_addf(&page->line, "; %s", into(fish->verdict));
        page_line(page, "         " BOX " ");
    }
}

static void add_basin(struct page *page, const struct cull_round *round, const struct basin *basin,
                      size_t row)
{
    const char *wait = basin_rows[row].wait;
    int out = basin_picked(basin) + basin->by_tag, rest = basin->fish - out;
    struct text what;
    text_init(&what);
    if (basin->by_tag > 0)
        text_addf(&what, "find %d by tag, as below", basin->by_tag);
    add_picks(&what, row, basin);
    if (rest > 0 && wait != NULL)
        text_addf(&what, "%s%d %s%s", separator(&what), rest, rest == 1 ? "stays" : "stay", wait);
    if (what.length > 0) {
        page_together(page, true);
        page_item(page, out > 0 ? STEP : NO_STEP, "%s (%d fish): %s.", basin_rows[row].name,
                  basin->fish, what.data);
        add_tagged(page, round, basin_rows[row].verdict);
        page_together(page, false);
    }
    text_done(&what);
}

/* Fish that are in no basin yet: judged ones go into theirs, the others stay in their bowl. */
static void add_bowl(struct page *page, const struct bowl_fish *bowl)
{
    int judged[VERDICT_COUNT] = {0};
    struct cull_count count = {0};
    struct text what;
    cull_count_add(&count, bowl);
    text_init(&what);
    for (size_t i = 0; i < bowl->count; i++)
        judged[bowl->fish[i].verdict] += bowl->fish[i].sent == VERDICT_OPEN;
    for (size_t i = 0; i < BASINS; i++)
        if (judged[basin_rows[i].verdict] > 0)
            text_addf(&what, "%sput %d %s", separator(&what), judged[basin_rows[i].verdict],
                      basin_rows[i].into);
    int open = judged[VERDICT_OPEN] + count.unseen;
    const char *lead = what.length > 0 ? STEP : NO_STEP;
    if (open > 0)
        text_addf(&what, "%s%d not judged yet, %s in it", separator(&what), open,
                  open == 1 ? "stays" : "stay");
    if (what.length > 0) {
        text_add(&page->line, "Bowl ");
        add_bowl_title(&page->line, bowl);
        text_addf(&page->line, ": %s.", what.data);
        page_line(page, lead);
    }
    text_done(&what);
}

static bool needs_picks(const struct basins *basins)
{
    int picked = 0;
    for (size_t row = 0; row < BASINS; row++)
        picked += basin_picked(&basins->of[basin_rows[row].verdict]);
    return picked > 0;
}

static void add_basin_work(struct page *page, const struct cull_round *round,
                           const struct fates *fates)
{
    struct basins basins = basins_of(round);
    struct bowl_iterator iterator = {0};
    if (needs_picks(&basins))
        page_addf(page,
                  "Verdicts changed after fish were put away. In a basin they have no number: "
                  "pick by eye, as many as stand here.");
    for (size_t row = 0; row < BASINS; row++)
        add_basin(page, round, &basins.of[basin_rows[row].verdict], row);
    for (struct bowl_fish bowl; bowl_iterator_next(round, &iterator, &bowl);)
        add_bowl(page, &bowl);
    page_addf(page, STEP "Count: reject %d ______   hold %d ______   keep %d ______",
              basins.after[VERDICT_REJECT], basins.after[VERDICT_HOLD], basins.after[VERDICT_KEEP]);
    page_addf(page, NO_STEP "Another number? Stop, and find out why before a fish goes out.");
    add_all_out(page, "Reject basin", basins.after[VERDICT_REJECT], fates);
}

/* Rounds told in numbers only. */

static void add_number_work(struct page *page, const struct cull_round *round,
                            const struct fates *fates)
{
    for (size_t i = 0; i < round->reason_count; i++)
        page_addf(page, "%8" PRId64 "  %s", round->reasons[i].fish, round->reasons[i].label);
    add_all_out(page, round->estimated ? "Rejects, about" : "Rejects", round->rejected, fates);
}

static void add_work(struct page *page, const struct cull_round *round)
{
    struct cull_count count = cull_count_round(round);
    int64_t rejects = rejects_of(round, &count);
    struct fates fates = settled(round, rejects);
    set_subhead(page, round, NULL);
    if (is_in_numbers(round))
        add_number_work(page, round, &fates);
    else if (round->waiting == WAITING_BASIN)
        add_basin_work(page, round, &fates);
    else
        add_cell_work(page, round);
    if (fates.fish[FATE_PUT_DOWN] > 0)
        page_addf(page,
                  STEP "Put down %" PRId64 ": last gill still at ________ , all checked dead at "
                       "________",
                  fates.fish[FATE_PUT_DOWN]);
    page_together(page, false);
    set_subhead(page, round, NULL);
    page_blank(page);
    if (round->waiting == WAITING_BASIN && !is_in_numbers(round))
        page_addf(page, "Done " SIGNATURE);
    else
        page_addf(page, "Took out ____ of %s%" PRId64 ", " SIGNATURE, about(round), rejects);
}

/* A line a round, and all together. */
static void add_rounds(struct page *page, const struct cull_list *list)
{
    struct cull_count total = {0};
    struct fates total_fates = {0};
    int64_t in_numbers = 0;
    page_section(page, "All rounds of this list");
    for (size_t i = 0; i < list->round_count; i++) {
        const struct cull_round *round = &list->rounds[i];
        struct cull_count count = cull_count_round(round);
        struct fates fates = settled(round, rejects_of(round, &count));
        fates_add(&total_fates, &fates);
        for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
            total.fish[verdict] += count.fish[verdict];
        total.unseen += count.unseen;
        in_numbers += is_in_numbers(round) ? round->rejected : 0;
        cull_name_text(&page->line, round);
        text_addf(&page->line, ": take out %" PRId64, rejects_of(round, &count));
        page_line(page, "");
    }
    cull_count_text(&total, &page->line);
    if (in_numbers > 0)
        text_addf(&page->line, ", and take out %" PRId64 " that have no number", in_numbers);
    page_line(page, "Together: ");
    fates_text(&total_fates, &page->line);
    page_line(page, "Rejects go: ");
    page_together(page, false);
}

void cull_list_print(const struct cull_list *list, struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "Cull list: %s", list->title);
    if (*list->printed != '\0')
        page_heading(&page, "printed %s", list->printed);
    if (list->round_count == 0)
        page_addf(&page, "No round belongs on this list.");
    if (list->round_count == 1)
        add_basis(&page, &list->rounds[0]);
    else if (list->round_count > 1)
        add_rounds(&page, list);
    cautions_print(&page);
    for (size_t i = 0; i < list->round_count; i++) {
        if (list->round_count > 1)
            add_basis(&page, &list->rounds[i]);
        else
            page_section(&page, "The work");
        add_work(&page, &list->rounds[i]);
    }
    guidance_print(&page);
    page_finish(&page, out);
}

/* CSV. */

/* Where a fish is, as far as it is known: the basin or the cell it was put into, else its bowl. */
static const char *place_word(const struct cull_round *round, const struct fish_row *fish)
{
    if (fish->sent == VERDICT_OPEN)
        return "bowl";
    return round->waiting == WAITING_BASIN ? verdict_terms[fish->sent].word : "cell";
}

/* Where it goes. Only rejects leave the place; in cells all others stay where they are. */
static const char *goal_word(const struct cull_round *round, const struct fish_row *fish)
{
    if (fish->verdict == VERDICT_REJECT)
        return round->fate == FATE_UNDECIDED ? "undecided" : fate_terms[round->fate].word;
    if (fish->verdict == VERDICT_OPEN)
        return "bowl";
    return round->waiting == WAITING_BASIN ? verdict_terms[fish->verdict].word : "cell";
}

static void csv_fish(struct text *out, const struct cull_round *round, const struct fish_row *fish,
                     const char *station)
{
    csv_add_number(out, fish->bowl, true);
    csv_add_number(out, fish->number, false);
    csv_add(out, verdict_terms[fish->verdict].word, false);
    csv_add(out, fish->reason, false);
    csv_add(out, fish->verdict == VERDICT_REJECT ? fate_terms[round->fate].word : "", false);
    csv_add(out, round->spawning, false);
    csv_add(out, round->lot, false);
    csv_add(out, stage_terms[round->stage].word, false);
    csv_add_known(out, fish->length_mm > 0, fish->length_mm);
    csv_add(out, fish->tag, false);
    csv_add(out, fish->note, false);
    csv_add(out, fish->score, false);
    csv_add(out, place_word(round, fish), false);
    csv_add(out, goal_word(round, fish), false);
    csv_add(out, station, false);
    csv_end_row(out);
}

static void csv_bowl(struct text *out, const struct cull_round *round, const struct bowl_fish *bowl)
{
    static const enum verdict order[] = {VERDICT_REJECT, VERDICT_HOLD, VERDICT_OPEN};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        for (size_t j = 0; j < bowl->count; j++)
            if (bowl->fish[j].verdict == order[i])
                csv_fish(out, round, &bowl->fish[j], bowl->station);
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap);)
        for (int number = gap.first; number <= gap.last; number++) {
            const struct fish_row unseen = {.bowl = bowl->number, .number = number};
            csv_fish(out, round, &unseen, bowl->station);
        }
}

void cull_list_csv(const struct cull_list *list, struct text *out)
{
    text_add(out, "bowl,fish,verdict,reason,fate,spawning,lot,stage,length_mm,tag,note,score,from,"
                  "to,station\n");
    for (size_t i = 0; i < list->round_count; i++) {
        struct bowl_iterator iterator = {0};
        for (struct bowl_fish bowl; bowl_iterator_next(&list->rounds[i], &iterator, &bowl);)
            csv_bowl(out, &list->rounds[i], &bowl);
    }
}
