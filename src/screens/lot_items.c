#include "senbetsu/screens/lot_items.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/ui/counter.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

static void keep(struct text *text, char ret_text[LOT_TEXT_SIZE])
{
    text_copy(ret_text, LOT_TEXT_SIZE, text->data);
    text_done(text);
}

void lot_title(const struct lot_origin *lot, char ret_title[LOT_TEXT_SIZE])
{
    struct text text;
    text_init(&text);
    lot_title_add(lot->mixed ? "" : lot->spawnings, lot->lot, &text);
    keep(&text, ret_title);
}

void lot_number(const struct book_count *book, char ret_number[LOT_TEXT_SIZE])
{
    char number[COUNT_TEXT_SIZE];
    if (book->overdrawn > 0)
        snprintf(ret_number, LOT_TEXT_SIZE, "! 0: %" PRId64 " too many went", book->overdrawn);
    else if (book->base == BOOK_NOTHING)
        text_copy(ret_number, LOT_TEXT_SIZE, "no fish yet");
    else if (book->now.number == NOT_COUNTED)
        text_copy(ret_number, LOT_TEXT_SIZE, "not known");
    else
        snprintf(ret_number, LOT_TEXT_SIZE, "%s%s%s", count_text(&book->now, number),
                 book->now.method != METHOD_UNSAID ? " " : "", method_terms[book->now.method].word);
}

static bool touches(const struct lot_event *event, int64_t lot_id)
{
    return !event->undone && (event->lot_id == lot_id || event->target_id == lot_id);
}

static bool came_in(const struct lot_event *event, int64_t lot_id)
{
    return !event->undone && event->target_id == lot_id;
}

/* Did fish of the same lot come in before? */
static bool is_known(const struct lot_event *events, size_t at, int64_t lot_id)
{
    for (size_t i = 0; i < at; i++)
        if (came_in(&events[i], lot_id) && events[i].lot_id == events[at].lot_id)
            return true;
    return false;
}

/* The codes of the lots whose fish came into this one, each once. */
static void add_sources(const struct lot_event *events, size_t count, int64_t lot_id,
                        struct text *out)
{
    for (size_t i = 0; i < count; i++)
        if (came_in(&events[i], lot_id) && !is_known(events, i, lot_id))
            text_addf(out, "%s%s", out->length > 0 ? ", " : "", events[i].lot);
}

static void add_origin(const struct lot_origin *lot, const struct lot_event *events, size_t count,
                       struct text *out)
{
    struct text sources;
    text_init(&sources);
    add_sources(events, count, lot->lot_id, &sources);
    if (lot->mixed)
        text_addf(out, "mixed from %s", lot->spawnings);
    else if (lot->own)
        text_addf(out, "the spawning's own%s%s", sources.length > 0 ? ", with fish of " : "",
                  sources.data);
    else
        text_addf(out, "out of %s", sources.length > 0 ? sources.data : lot->spawnings);
    text_done(&sources);
}

static void add_base(const struct book_count *book, struct text *out)
{
    static const char *const words[] = {
        [BOOK_NOTHING] = "",
        [BOOK_UNKNOWN] = "",
        [BOOK_FRY] = "; number as hatched",
        [BOOK_MOVED] = "; number as put in",
        [BOOK_CULL] = "; number as culled",
        [BOOK_COUNT] = "; number as counted since",
    };
    if (book->after != STAGE_COUNT)
        text_addf(out, "; after the %s cull", stage_terms[book->after].word);
    text_add(out, words[book->base]);
}

static void add_loss(const char *word, int64_t fish, struct text *out)
{
    if (fish > 0)
        text_addf(out, "; %s %" PRId64, word, fish);
}

static void describe(const struct lot_line *line, const struct lot_event *events, size_t count,
                     char ret_about[LOT_TEXT_SIZE])
{
    struct text text;
    text_init(&text);
    add_origin(&line->of, events, count, &text);
    add_base(&line->book, &text);
    add_loss("dead", line->book.dead, &text);
    add_loss("lost", line->book.lost, &text);
    add_loss("found", line->book.found, &text);
    keep(&text, ret_about);
}

void lot_event_text(const struct lot_event *event, int64_t lot_id, struct text *out)
{
    struct lot_news news = lot_news_of(event, NULL);
    text_addf(out, "%s ", event->day);
    if (event->target_id == lot_id) {
        if (event->fish.number != NOT_COUNTED)
            count_text_add(&event->fish, out);
        else
            text_add(out, "fish");
        text_addf(out, " from %s%s", event->lot, event->all ? ": all there were" : "");
    } else {
        lot_news_add(&news, out);
    }
    if (event->note[0] != '\0')
        text_addf(out, " (%s)", event->note);
}

void lot_item_fill(struct lot_item *item, const struct lot_line *line,
                   const struct lot_event *events, size_t event_count)
{
    *item = (struct lot_item){.wrong = line->book.overdrawn > 0};
    lot_title(&line->of, item->title);
    text_copy(item->pond, sizeof item->pond, line->pond);
    lot_number(&line->book, item->number);
    describe(line, events, event_count, item->about);
    for (size_t i = event_count; i > 0 && item->event_count < LOT_EVENTS_SHOWN; i--) {
        struct text text;
        if (!touches(&events[i - 1], line->of.lot_id))
            continue;
        text_init(&text);
        lot_event_text(&events[i - 1], line->of.lot_id, &text);
        keep(&text, item->events[item->event_count++]);
    }
}

bool lot_name_check(struct ledger *ledger, const char *spawning, const char *code, struct err *err)
{
    struct lot_origin *lots;
    size_t count;
    bool known = false;
    const struct lot_origin *mixed = NULL;
    if (!lot_origins_list(ledger, &lots, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(lots[i].lot, code) != 0 || !code_in_list(lots[i].spawnings, spawning))
            continue;
        if (lots[i].mixed)
            mixed = &lots[i];
        else
            known = true;
    }
    bool fine = known || mixed == NULL ||
                err_set(err, ERR_INPUT,
                        "Lot %s is mixed from %s: open it in the list of lots, or take another "
                        "name.",
                        code, mixed->spawnings);
    lot_origins_free(lots, count);
    return fine;
}

bool codes_in_list(const char *codes, const char *list)
{
    char code[CODE_SIZE];
    for (const char *at = codes; *at != '\0'; at += strcspn(at, ";"), at += *at == ';') {
        size_t length = strcspn(at, ";");
        text_copy(code, length < sizeof code ? length + 1 : sizeof code, at);
        if (!code_in_list(list, code))
            return false;
    }
    return true;
}

/* Names of mixed lots are their own, whatever they are mixed from. */
static bool is_taken(const struct lot_line *line, const char *spawnings, const char *code)
{
    bool same = codes_in_list(line->of.spawnings, spawnings) &&
                codes_in_list(spawnings, line->of.spawnings);
    bool both_mixed = line->of.mixed && strchr(spawnings, ';') != NULL;
    return strcmp(line->of.lot, code) == 0 && (same || both_mixed) &&
           !(same && line->book.base == BOOK_NOTHING);
}

void lot_free_code(const struct lot_line *lines, size_t count, const char *spawnings,
                   const char *stem, int first, char ret_code[CODE_SIZE])
{
    bool taken = true;
    for (int number = first; taken; number++) {
        taken = false;
        snprintf(ret_code, CODE_SIZE, "%s%d", stem, number);
        for (size_t i = 0; i < count && !taken; i++)
            taken = is_taken(&lines[i], spawnings, ret_code);
    }
}
