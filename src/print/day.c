/* The day's sheet, for whoever was not at the bowls: a part a round, then what happened to lots.
 *
 * A part tells what was done on the day before how the round stands, since fish judged today may
 * have been corrected later; numbers that were stated come after those that were judged or tallied.
 * In CSV rounds and events share one table, so that a day is one file: what the one kind of row
 * does not have is empty. */
#include "senbetsu/print/day.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/print/counts.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

static int most_fish_first(const void *a, const void *b)
{
    const struct reject_reason *first = a;
    const struct reject_reason *second = b;
    return first->fish != second->fish ? (first->fish < second->fish) - (first->fish > second->fish)
                                       : strcmp(first->label, second->label);
}

static void add_reasons(struct page *page, struct reject_reason *reasons, size_t count)
{
    if (count > 0)
        qsort(reasons, count, sizeof *reasons, most_fish_first);
    for (size_t i = 0; i < count; i++)
        page_addf(page, "    %5" PRId64 "  %s", reasons[i].fish, reasons[i].label);
}

static void add_number(struct text *out, const char *word, int64_t number, enum method method)
{
    if (number == NOT_COUNTED)
        return;
    text_addf(out, "%s%s %" PRId64, out->length > 0 ? ", " : "", word, number);
    if (method != METHOD_UNSAID)
        text_addf(out, " %s", method_terms[method].word);
}

static void add_tallied_numbers(const struct tally_totals *totals, struct text *out)
{
    add_number(out, "keep", totals->kept.number, totals->kept.method);
    add_number(out, "reject", totals->rejected.number, totals->rejected.method);
    add_number(out, "dead", totals->dead.number, totals->dead.method);
}

/* What was judged fish by fish, and what was tallied. */
static void add_work(struct page *page, const struct day_round *round)
{
    const int *fish = round->by_verdict.fish;
    if (round->looked_at > 0) {
        page_addf(page, "  %" PRId64 " fish looked at on the day", round->looked_at);
        page_addf(page, "  as the round stands: keep %d, hold %d, reject %d, not judged %d",
                  fish[VERDICT_KEEP], fish[VERDICT_HOLD], fish[VERDICT_REJECT],
                  cull_not_judged(&round->by_verdict));
        add_reasons(page, round->judged_reasons, round->judged_reason_count);
    }
    if (round->is_tallied) {
        add_tallied_numbers(&round->on_day, &page->line);
        page_line(page, "  tallied on the day: ");
        add_tallied_numbers(&round->stands, &page->line);
        if (round->left >= 0)
            add_number(&page->line, "still to do", round->left, METHOD_UNSAID);
        page_line(page, "  as the round stands: ");
        add_reasons(page, round->reasons, round->reason_count);
    }
    if (*round->not_done != '\0')
        page_addf(page, "  ! %s", round->not_done);
    if (*round->outdated != '\0')
        page_addf(page, "  ! %s", round->outdated);
}

static void add_round(struct page *page, const struct day_round *round)
{
    const struct round_counts *counts = &round->counts;
    char look[FIRST_LOOK_TEXT_SIZE];
    struct text title;
    text_init(&title);
    lot_title_add(round->spawning, round->lot, &title);
    page_part(page, "%s%s%s, %s", title.data, round->variety[0] != '\0' ? ", " : "", round->variety,
              stage_terms[round->stage].word);
    text_done(&title);
    if (round->first_look.looked_at > 0)
        page_add(page, "  first look: ", first_look_text(&round->first_look, look));
    add_work(page, round);
    add_number(&page->line, "in", counts->in.number, counts->in.method);
    add_number(&page->line, "kept", counts->kept.number, counts->kept.method);
    add_number(&page->line, "rejected", counts->rejected, METHOD_UNSAID);
    add_number(&page->line, "dead", counts->dead, METHOD_UNSAID);
    page_line(page, "  counts: ");
    if (counts->note[0] != '\0')
        page_add(page, "  note: ", counts->note);
    fates_text(&round->fates, &page->line);
    page_line(page, "  rejects: ");
}

void day_sheet_print(const struct day_sheet *sheet, struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "The day %s", sheet->day);
    for (size_t i = 0; i < sheet->round_count; i++)
        add_round(&page, &sheet->rounds[i]);
    if (sheet->news_count > 0)
        page_part(&page, "Lots");
    for (size_t i = 0; i < sheet->news_count; i++) {
        const struct lot_news *news = &sheet->news[i];
        lot_title_add(news->spawning, news->lot, &page.line);
        text_add(&page.line, ": ");
        lot_news_add(news, &page.line);
        if (news->note[0] != '\0')
            text_addf(&page.line, " (%s)", news->note);
        page_line(&page, "  ");
        page_together(&page, false);
    }
    page_finish(&page, out);
}

/* Columns of a round that an event does not have, and the other way round. */
enum { ROUND_COLUMNS = 10, EVENT_COLUMNS = 4 };

static void csv_add_empty(struct text *out, int columns)
{
    text_add_repeated(out, ",", columns);
}

/* looked_at,keep,hold,reject,left */
static void csv_add_work(const struct day_round *round, struct text *out)
{
    const int *fish = round->by_verdict.fish;
    bool judged = round->looked_at > 0;
    if (!judged && round->is_tallied) {
        csv_add_number(out, tally_handled(&round->on_day), false);
        csv_add_number(out, round->stands.kept.number, false);
        csv_add_empty(out, 1);
        csv_add_number(out, round->stands.rejected.number, false);
        csv_add_known(out, round->left >= 0, round->left);
        return;
    }
    csv_add_known(out, judged, round->looked_at);
    csv_add_known(out, judged, fish[VERDICT_KEEP]);
    csv_add_known(out, judged, fish[VERDICT_HOLD]);
    csv_add_known(out, judged, fish[VERDICT_REJECT]);
    csv_add_known(out, judged, cull_not_judged(&round->by_verdict));
}

static void csv_add_round(const struct day_round *round, struct text *out)
{
    const struct round_counts *counts = &round->counts;
    csv_add(out, round->spawning, true);
    csv_add(out, round->lot, false);
    csv_add(out, stage_terms[round->stage].word, false);
    csv_add_work(round, out);
    csv_add_known(out, counts->in.number != NOT_COUNTED, counts->in.number);
    csv_add_known(out, counts->kept.number != NOT_COUNTED, counts->kept.number);
    csv_add_known(out, counts->rejected != NOT_COUNTED, counts->rejected);
    csv_add_known(out, counts->dead != NOT_COUNTED, counts->dead);
    csv_add_empty(out, EVENT_COLUMNS);
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        csv_add_known(out, round->fates.fish[fate] != 0, round->fates.fish[fate]);
    csv_end_row(out);
}

static void csv_add_news(const struct lot_news *news, struct text *out)
{
    csv_add(out, news->spawning, true);
    csv_add(out, news->lot, false);
    csv_add_empty(out, ROUND_COLUMNS);
    csv_add(out, lot_event_terms[news->kind].word, false);
    csv_add_known(out, news->fish.number != NOT_COUNTED, news->fish.number);
    csv_add(out, news->target, false);
    csv_add(out, news->pond, false);
    csv_add_empty(out, FATE_COUNT - 1);
    csv_end_row(out);
}

void day_sheet_csv(const struct day_sheet *sheet, struct text *out)
{
    text_add(out, "spawning,lot,stage,looked_at,keep,hold,reject,left,in,kept,rejected,dead,event,"
                  "number,into,pond,pond_grade,passed_on,kept_apart,put_down\n");
    for (size_t i = 0; i < sheet->round_count; i++)
        csv_add_round(&sheet->rounds[i], out);
    for (size_t i = 0; i < sheet->news_count; i++)
        csv_add_news(&sheet->news[i], out);
}
