/* Counts, lots and first looks in the words that every page and screen uses for them.
 *
 * A number of fish never stands without how it was made: "2400 scooped (±4.0 %)" and "2400 counted"
 * are different facts to whoever plans with them. */
#include "senbetsu/print/counts.h"
#include "senbetsu/base/number.h"
#include "senbetsu/stats/proportion.h"

#include <inttypes.h>
#include <stdio.h>
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

void lot_news_add(const struct lot_news *news, struct text *out)
{
    if (news->kind == EVENT_MOVE) {
        text_addf(out, "move to %s", news->pond);
        return;
    }
    /* Dead fish are counted one by one unless somebody says otherwise. */
    if (news->kind != EVENT_TRANSFER && news->kind != EVENT_COUNT &&
        news->fish.method == METHOD_COUNTED && news->fish.cv == 0) {
        text_addf(out, "%s %" PRId64, lot_event_terms[news->kind].word, news->fish.number);
        return;
    }
    if (news->kind != EVENT_TRANSFER) {
        text_addf(out, "%s ",
                  news->kind == EVENT_COUNT ? "in all" : lot_event_terms[news->kind].word);
        count_text_add(&news->fish, out);
        return;
    }
    text_add(out, news->all ? "merged: all" : "split:");
    if (news->fish.number != NOT_COUNTED) {
        text_add(out, " ");
        count_text_add(&news->fish, out);
    }
    text_addf(out, " into lot %s", news->target);
}

static void add(struct text *out, size_t start, const char *before, int64_t fish, const char *after)
{
    if (fish == 0)
        return;
    text_add(out, out->length > start ? ", " : "");
    text_addf(out, "%s%s%" PRId64 "%s", before, *before != '\0' ? " " : "", fish, after);
}

void fates_text(const struct fates *fates, struct text *out)
{
    size_t start = out->length;
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        add(out, start, fate_terms[fate].word, fates->fish[fate], "");
    add(out, start, "not decided", fates->fish[FATE_UNDECIDED], "");
    add(out, start, "", fates->over, " more than were rejected");
}

const char *first_look_interval_text(const struct first_look *look,
                                     char ret_text[INTERVAL_TEXT_SIZE])
{
    ret_text[0] = '\0';
    if (look->looked_at == 0)
        return ret_text;
    struct interval interval = wilson_interval(look->good, look->looked_at, CONFIDENCE_LEVEL);
    snprintf(ret_text, INTERVAL_TEXT_SIZE, "%.1f to %.1f %%", 100 * interval.low,
             100 * interval.high);
    return ret_text;
}

const char *first_look_text(const struct first_look *look, char ret_text[FIRST_LOOK_TEXT_SIZE])
{
    char percent[NUMBER_SIZE], interval[INTERVAL_TEXT_SIZE];
    ret_text[0] = '\0';
    if (look->looked_at == 0)
        return ret_text;
    number_to_tenth(100 * look->good, look->looked_at, percent);
    snprintf(ret_text, FIRST_LOOK_TEXT_SIZE, "%" PRId64 " of %" PRId64 " good, %s %% (%s)",
             look->good, look->looked_at, percent, first_look_interval_text(look, interval));
    return ret_text;
}
