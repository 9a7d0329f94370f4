#include "senbetsu/print/day.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/core/progress.h"
#include "senbetsu/print/counts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct verdict_counts tally_of(const struct day_round *round)
{
    struct verdict_counts tally = {.expected = 0};
    for (size_t i = 0; i < round->fish_count; i++)
        verdict_counts_add(&tally, round->fish[i].verdict);
    return tally;
}

static int compare_reasons(const void *a, const void *b)
{
    const struct reject_reason *first = a;
    const struct reject_reason *second = b;
    return first->fish != second->fish ? (first->fish < second->fish) - (first->fish > second->fish)
                                       : strcmp(first->label, second->label);
}

/* Most frequent first. */
static void add_reasons(struct page *page, const struct reject_reason *reasons, size_t count)
{
    struct reject_reason *sorted = alloc_zeroed(count, sizeof *sorted);
    if (count > 0)
        memcpy(sorted, reasons, count * sizeof *sorted);
    qsort(sorted, count, sizeof *sorted, compare_reasons);
    for (size_t i = 0; i < count; i++)
        page_addf(page, "    %5" PRId64 "  %s", sorted[i].fish, sorted[i].label);
    free(sorted);
}

static void count_reason(const char *label, struct reject_reason *reasons, size_t *count)
{
    size_t at = 0;
    while (at < *count && strcmp(reasons[at].label, label) != 0)
        at++;
    *count += at == *count;
    text_copy(reasons[at].label, sizeof reasons[at].label, label);
    reasons[at].fish++;
}

static void add_judged_reasons(struct page *page, const struct day_round *round)
{
    struct reject_reason *reasons = alloc_zeroed(round->fish_count, sizeof *reasons);
    size_t count = 0;
    for (size_t i = 0; i < round->fish_count; i++)
        if (round->fish[i].verdict == VERDICT_REJECT)
            count_reason(round->fish[i].reason_label, reasons, &count);
    add_reasons(page, reasons, count);
    free(reasons);
}

static void add_judged(struct page *page, const struct day_round *round)
{
    struct verdict_counts tally = tally_of(round);
    if (round->fish_count == 0)
        return;
    page_addf(page, "  %" PRId64 " fish looked at on the day", round->looked_at);
    page_addf(page, "  as the round stands: keep %d, hold %d, reject %d, not judged %d",
              tally.verdicts[VERDICT_KEEP], tally.verdicts[VERDICT_HOLD],
              tally.verdicts[VERDICT_REJECT], round->not_judged);
    add_judged_reasons(page, round);
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

static void add_tallied(struct page *page, const struct day_round *round)
{
    struct text line;
    if (!round->is_tallied)
        return;
    text_init(&line);
    add_tallied_numbers(&round->on_day, &line);
    page_add(page, "  tallied on the day: ", line.data);
    text_clear(&line);
    add_tallied_numbers(&round->stands, &line);
    if (round->left >= 0)
        add_number(&line, "still to do", round->left, METHOD_UNSAID);
    page_add(page, "  as the round stands: ", line.data);
    text_done(&line);
    add_reasons(page, round->reasons, round->reason_count);
}

static void add_counts(struct page *page, const struct round_counts *counts)
{
    struct text line;
    text_init(&line);
    add_number(&line, "in", counts->in.number, counts->in.method);
    add_number(&line, "kept", counts->kept.number, counts->kept.method);
    add_number(&line, "rejected", counts->rejected, METHOD_UNSAID);
    add_number(&line, "dead", counts->dead, METHOD_UNSAID);
    if (line.length > 0)
        page_add(page, "  counts: ", line.data);
    if (counts->note[0] != '\0')
        page_add(page, "  note: ", counts->note);
    text_done(&line);
}

static void add_first_look(struct page *page, const struct first_look *look)
{
    char text[FIRST_LOOK_TEXT_SIZE];
    if (look->looked_at > 0)
        page_add(page, "  first look: ", first_look_text(look, text));
}

static void add_fates(struct page *page, const struct fates *fates)
{
    struct text text;
    text_init(&text);
    fates_text(fates, &text);
    if (text.length > 0)
        page_add(page, "  rejects: ", text.data);
    text_done(&text);
}

static void add_round(struct page *page, const struct day_round *round)
{
    struct text title;
    text_init(&title);
    lot_title_add(round->spawning, round->lot, &title);
    if (round->variety[0] != '\0')
        text_addf(&title, ", %s", round->variety);
    text_addf(&title, ", %s", stage_terms[round->stage].word);
    page_part(page, title.data);
    add_first_look(page, &round->first_look);
    add_judged(page, round);
    add_tallied(page, round);
    add_counts(page, &round->counts);
    add_fates(page, &round->fates);
    text_done(&title);
}

static void add_news(struct page *page, const struct day_sheet *sheet)
{
    struct text line;
    if (sheet->news_count == 0)
        return;
    page_part(page, "Lots");
    text_init(&line);
    for (size_t i = 0; i < sheet->news_count; i++) {
        const struct lot_news *news = &sheet->news[i];
        text_clear(&line);
        lot_title_add(news->spawning, news->lot, &line);
        text_add(&line, ": ");
        lot_news_add(news, &line);
        if (news->note[0] != '\0')
            text_addf(&line, " (%s)", news->note);
        page_add(page, "  ", line.data);
        page_together(page, false);
    }
    text_done(&line);
}

void day_sheet_print(const struct day_sheet *sheet, struct page_setup setup, struct text *out)
{
    struct page page;
    char title[32];
    snprintf(title, sizeof title, "The day %s", sheet->day);
    page_init(&page, setup);
    page_heading(&page, title);
    for (size_t i = 0; i < sheet->round_count; i++)
        add_round(&page, &sheet->rounds[i]);
    add_news(&page, sheet);
    page_together(&page, false);
    page_write(&page, out);
    page_done(&page);
}

static void csv_add_known(struct text *out, bool known, int64_t number)
{
    if (known)
        csv_add_number(out, number, false);
    else
        csv_add(out, "", false);
}

/* Columns of a round that an event does not have, and the other way round. */
enum { ROUND_COLUMNS = 10, EVENT_COLUMNS = 4 };

static void csv_add_empty(struct text *out, int columns)
{
    for (int i = 0; i < columns; i++)
        csv_add(out, "", false);
}

/* looked_at,keep,hold,reject,left */
static void csv_add_work(const struct day_round *round, struct text *out)
{
    struct verdict_counts tally = tally_of(round);
    bool judged = round->fish_count > 0;
    if (!judged && round->is_tallied) {
        csv_add_number(out, tally_handled(&round->on_day), false);
        csv_add_number(out, round->stands.kept.number, false);
        csv_add_empty(out, 1);
        csv_add_number(out, round->stands.rejected.number, false);
        csv_add_known(out, round->left >= 0, round->left);
        return;
    }
    csv_add_known(out, judged, round->looked_at);
    csv_add_known(out, judged, tally.verdicts[VERDICT_KEEP]);
    csv_add_known(out, judged, tally.verdicts[VERDICT_HOLD]);
    csv_add_known(out, judged, tally.verdicts[VERDICT_REJECT]);
    csv_add_known(out, judged, round->not_judged);
}

static void csv_add_fates(const struct fates *fates, struct text *out)
{
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        csv_add_known(out, fates->fish[fate] != 0, fates->fish[fate]);
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
    csv_add_fates(&round->fates, out);
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
