#include "senbetsu/print/season.h"
#include "senbetsu/base/number.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/stats/kinship.h"

#include <inttypes.h>
#include <stdio.h>

static void add_rejects(const struct book_round *round, struct text *out)
{
    bool any = fates_any(&round->fates);
    if (round->rejected != NOT_COUNTED)
        text_addf(out, ", rejected %" PRId64, round->rejected);
    else if (any)
        text_add(out, ", rejected not counted");
    if (!any)
        return;
    text_add(out, " (");
    fates_text(&round->fates, out);
    text_add(out, ")");
}

/* How a round's numbers were made; the lot is named where it is not the spawning's own. */
static void add_round(struct page *page, const struct book_round *round)
{
    char lead[CODE_SIZE + 8] = "    fish: ", look[FIRST_LOOK_TEXT_SIZE];
    struct text line;
    if (round->lot[0] != '\0')
        snprintf(lead, sizeof lead, "    %s: ", round->lot);
    text_init(&line);
    text_add(&line, "in ");
    count_text_add(&round->in, &line);
    text_add(&line, ", kept ");
    count_text_add(&round->kept, &line);
    add_rejects(round, &line);
    if (round->dead != NOT_COUNTED)
        text_addf(&line, ", dead %" PRId64, round->dead);
    page_add(page, lead, line.data);
    if (round->first_look.looked_at > 0)
        page_add(page, "    first look: ", first_look_text(&round->first_look, look));
    text_done(&line);
}

static const struct rate_row *find_stage(const struct rate_row *rows, size_t count,
                                         enum stage stage)
{
    for (size_t i = 0; i < count; i++)
        if (rows[i].first == stage && rows[i].last == stage)
            return &rows[i];
    return NULL;
}

/* A stage's rate above the rounds it is made of; no rate where numbers are missing. */
static void add_stage(struct page *page, const struct book_entry *entry, enum stage stage)
{
    const struct rate_row *row = find_stage(entry->rows, entry->row_count, stage);
    bool begun = row != NULL;
    if (begun)
        rates_add_row(page, row);
    for (size_t i = 0; i < entry->round_count; i++) {
        if (entry->rounds[i].stage != stage)
            continue;
        if (!begun)
            page_addf(page, "  %-14s no rate: a number is missing", stage_terms[stage].word);
        begun = true;
        add_round(page, &entry->rounds[i]);
    }
}

static void add_chained(struct page *page, const struct rate_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (rows[i].first != rows[i].last)
            rates_add_row(page, &rows[i]);
}

static void add_total(struct text *line, enum lot_event_kind kind, int64_t fish)
{
    if (fish > 0)
        text_addf(line, "%s %" PRId64 ", ", lot_event_terms[kind].word, fish);
}

/* What happened to a lot in all and how many fish it has now; then where its fish went. */
static void add_lot(struct page *page, const struct book_lot *lot)
{
    struct text line;
    text_init(&line);
    text_addf(&line, "lot%s%s: ", lot->lot[0] != '\0' ? " " : "", lot->lot);
    add_total(&line, EVENT_DEAD, lot->book.dead);
    add_total(&line, EVENT_LOST, lot->book.lost);
    add_total(&line, EVENT_FOUND, lot->book.found);
    text_add(&line, "now ");
    if (lot->book.overdrawn > 0)
        text_addf(&line, "0 (%" PRId64 " more went than there were)", lot->book.overdrawn);
    else
        count_text_add(&lot->book.now, &line);
    if (lot->pond[0] != '\0')
        text_addf(&line, ", pond %s", lot->pond);
    page_add(page, "    ", line.data);
    for (size_t i = 0; i < lot->transfer_count; i++) {
        text_clear(&line);
        text_addf(&line, "%s ", lot->transfers[i].day);
        lot_news_add(&lot->transfers[i], &line);
        page_add(page, "      ", line.data);
    }
    text_done(&line);
}

const char hatched_too_many[] = "more hatched than eggs: a count is wrong";

static void add_fry(struct page *page, int64_t eggs, int64_t hatched)
{
    char percent[NUMBER_SIZE];
    struct text line;
    text_init(&line);
    if (eggs != NOT_COUNTED)
        text_addf(&line, "%" PRId64 " eggs", eggs);
    if (hatched != NOT_COUNTED)
        text_addf(&line, "%s%" PRId64 " hatched", eggs != NOT_COUNTED ? ", " : "", hatched);
    if (eggs > 0 && hatched != NOT_COUNTED) {
        number_to_tenth(100 * hatched, eggs, percent);
        text_addf(&line, " (%s %%)", percent);
    }
    if (line.length > 0)
        page_add(page, "  ", line.data);
    if (eggs != NOT_COUNTED && hatched > eggs)
        page_add(page, "    ! ", hatched_too_many);
    text_done(&line);
}

static void add_entry(struct page *page, const struct book_entry *entry)
{
    page_part(page, entry->title);
    if (entry->lot_origin[0] != '\0')
        page_add(page, "  ", entry->lot_origin);
    if (entry->note[0] != '\0')
        page_add(page, "  ", entry->note);
    add_fry(page, entry->eggs, entry->hatched);
    for (int stage = 0; stage < STAGE_COUNT; stage++)
        add_stage(page, entry, (enum stage)stage);
    add_chained(page, entry->rows, entry->row_count);
    for (size_t i = 0; i < entry->lot_count; i++)
        add_lot(page, &entry->lots[i]);
    if (entry->row_count == 0 && entry->round_count == 0)
        page_addf(page, "  no round yet");
}

/* The sum of what is known, and of how many spawnings that is. */
static void add_sum(struct page *page, const struct season_book *book, bool hatched)
{
    int64_t sum = 0;
    size_t known = 0;
    for (size_t i = 0; i < book->spawning_entries; i++) {
        int64_t number = hatched ? book->entries[i].hatched : book->entries[i].eggs;
        sum += number != NOT_COUNTED ? number : 0;
        known += number != NOT_COUNTED;
    }
    if (known > 0)
        page_addf(page, "  %" PRId64 " %s, from %zu of %zu spawnings", sum,
                  hatched ? "hatched" : "eggs", known, book->spawning_entries);
}

static void add_parents(struct page *page, const struct season_parents *parents)
{
    if (parents->dams == 0)
        return;
    page_addf(page, "  %zu dam%s and %zu sire%s, an effective number of %.1f parents",
              parents->dams, parents->dams == 1 ? "" : "s", parents->sires,
              parents->sires == 1 ? "" : "s", parents->effective);
    page_addf(page, "    inbreeding grows by %.1f %% in a generation (rule of thumb: at most 1 %%)",
              100 * inbreeding_per_generation(parents->effective));
    if (parents->effective_by_fish > 0)
        page_addf(page,
                  "    by what each spawning kept last: %.1f parents, %.1f %% in a generation",
                  parents->effective_by_fish,
                  100 * inbreeding_per_generation(parents->effective_by_fish));
    if (parents->left_out > 0)
        page_addf(page, "    %zu spawning%s without a named dam or sires left out",
                  parents->left_out, parents->left_out == 1 ? "" : "s");
}

static void add_fates(struct page *page, const struct season_book *book)
{
    struct fates total = {0};
    struct text text;
    text_init(&text);
    for (size_t i = 0; i < book->entry_count; i++)
        for (size_t j = 0; j < book->entries[i].round_count; j++)
            fates_add(&total, &book->entries[i].rounds[j].fates);
    fates_text(&total, &text);
    if (fates_any(&total))
        page_add(page, "  rejects: ", text.data);
    text_done(&text);
}

static void add_season(struct page *page, const struct season_book *book)
{
    page_part(page, "All together");
    add_sum(page, book, false);
    add_sum(page, book, true);
    add_parents(page, &book->parents);
    for (size_t i = 0; i < book->season_row_count; i++)
        rates_add_row(page, &book->season_rows[i]);
    add_fates(page, book);
    if (book->season_row_count == 0)
        page_addf(page, "  no round has both numbers yet");
}

void season_book_print(const struct season_book *book, struct page_setup setup, struct text *out)
{
    struct page page;
    char title[32];
    snprintf(title, sizeof title, "Season book %d", book->season);
    page_init(&page, setup);
    page_heading(&page, title);
    page_heading(&page, rates_columns);
    for (size_t i = 0; i < book->entry_count; i++)
        add_entry(&page, &book->entries[i]);
    add_season(&page, book);
    page_together(&page, false);
    page_subhead(&page, "");
    page_write(&page, out);
    page_done(&page);
}

void season_book_csv(const struct season_book *book, struct text *out)
{
    rates_csv(BY_SPAWNING, NULL, 0, out);
    for (size_t i = 0; i < book->entry_count; i++)
        for (size_t j = 0; j < book->entries[i].row_count; j++)
            rates_csv_row(i < book->spawning_entries ? BY_SPAWNING : BY_LOT,
                          &book->entries[i].rows[j], out);
    for (size_t i = 0; i < book->season_row_count; i++)
        rates_csv_row(BY_SEASON, &book->season_rows[i], out);
}
