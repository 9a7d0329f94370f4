/* The culls that come next, for planning a week: lot, cull, when it is usual, how long it takes.
 *
 * Hours come from the farm's own pace at that cull; where nobody has measured one, the line says so
 * instead of borrowing a number from elsewhere. */
#include "senbetsu/print/due.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/base/number.h"
#include "senbetsu/print/counts.h"

#include <inttypes.h>

/* Of work, where fish and pace are known. */
static bool hours(const struct due *due, char ret[NUMBER_SIZE])
{
    if (due->fish == NOT_COUNTED || due->pace == 0)
        return false;
    number_to_tenth(due->fish, due->pace, ret);
    return true;
}

static void add_due(struct page *page, const struct due *due)
{
    char time[NUMBER_SIZE];
    struct text title;
    text_init(&title);
    lot_title_add(due->mixed ? "" : due->spawnings, due->lot, &title);
    if (due->mixed)
        text_addf(&title, " from %s", due->spawnings);
    if (due->variety[0] != '\0')
        text_addf(&title, ", %s", due->variety);
    if (due->pond[0] != '\0')
        text_addf(&title, ", in %s", due->pond);
    page_part(page, "%s: %s", title.data, stage_terms[due->stage].word);
    page_subhead(page, "");
    text_done(&title);
    page_item(page, "    ", "%susually %s to %s (age %s)", due->late ? "LATE, " : "", due->from,
              due->to, evidence_terms[due->evidence].gloss);
    if (due->fish == NOT_COUNTED)
        text_add(&page->line, "the fish have not been counted");
    else
        text_addf(&page->line, "%" PRId64 " %s", due->fish,
                  due->fry ? "fry hatched" : "fish recorded");
    if (hours(due, time))
        text_addf(&page->line, ", about %s hours at your own %d fish an hour", time, due->pace);
    else if (due->pace == 0)
        text_add(&page->line, "; your own pace at this cull is not known yet");
    page_line(page, "    ");
}

void due_list_print(const struct due_list *list, struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "Culls due, %s to %s", list->from, list->to);
    for (size_t i = 0; i < list->count; i++)
        add_due(&page, &list->dues[i]);
    if (list->count == 0)
        page_addf(&page, "No cull is due.");
    page_finish(&page, out);
}

static void csv_add_due(const struct due *due, struct text *out)
{
    char time[NUMBER_SIZE] = "";
    csv_add(out, due->spawnings, true);
    csv_add(out, due->lot, false);
    csv_add(out, due->variety, false);
    csv_add(out, stage_terms[due->stage].word, false);
    csv_add(out, due->from, false);
    csv_add(out, due->to, false);
    csv_add(out, due->late ? "late" : "", false);
    csv_add_known(out, due->fish != NOT_COUNTED, due->fish);
    csv_add_known(out, due->pace != 0, due->pace);
    hours(due, time);
    csv_add(out, time, false);
    csv_add(out, due->pond, false);
    csv_end_row(out);
}

void due_list_csv(const struct due_list *list, struct text *out)
{
    text_add(out, "spawning,lot,variety,stage,from,to,late,fish,per_hour,hours,pond\n");
    for (size_t i = 0; i < list->count; i++)
        csv_add_due(&list->dues[i], out);
}
