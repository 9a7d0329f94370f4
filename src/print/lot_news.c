#include "senbetsu/print/lot_news.h"
#include "senbetsu/base/number.h"

#include <inttypes.h>
#include <string.h>

void count_text_add(const struct count *count, struct text *out)
{
    char percent[NUMBER_SIZE];
    if (count->number == NOT_COUNTED) {
        text_add(out, "not counted");
        return;
    }
    text_addf(out, "%" PRId64, count->number);
    if (count->method != METHOD_UNSAID)
        text_addf(out, " %s", method_terms[count->method].word);
    number_to_tenth(count->cv, CV_ONE / 100, percent);
    if (count->cv != 0)
        text_addf(out, " (±%s %%)", percent);
    else if (count_error_unknown(count))
        text_add(out, " (error not known)");
}

void lot_title_add(const char *spawning, const char *lot, struct text *out)
{
    text_add(out, lot);
    if (spawning[0] == '\0')
        text_add(out, ", mixed");
    else if (strcmp(lot, spawning) != 0)
        text_addf(out, " of %s", spawning);
}

static void add_transfer(const struct lot_news *news, struct text *out)
{
    text_add(out, news->all ? "put together: all" : "split:");
    if (news->fish.number != NOT_COUNTED) {
        text_add(out, " ");
        count_text_add(&news->fish, out);
    }
    text_addf(out, " into lot %s", news->target);
}

void lot_news_add(const struct lot_news *news, struct text *out)
{
    if (news->kind == EVENT_TRANSFER)
        add_transfer(news, out);
    else if (news->kind == EVENT_MOVE)
        text_addf(out, "move to %s", news->pond);
    else {
        text_addf(out, "%s ", lot_event_terms[news->kind].word);
        count_text_add(&news->fish, out);
    }
}
