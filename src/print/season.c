/* The season book, the farm's memory: every spawning with its parents, its fish from eggs to kept
 * tosai, its lots and where they went; then all together.
 *
 * Each cull shows the rate and below it the numbers it was made of and how they were counted, so
 * that a reader years later can judge them. The last part adds up what no single spawning shows:
 * how many parents the season's fish really come from, and where the rejects went. */
#include "senbetsu/print/season.h"
#include "senbetsu/base/number.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/stats/kinship.h"

#include <inttypes.h>
#include <stdio.h>

/* How a round's numbers were made; the lot is named where it is not the spawning's own. */
static void add_round(struct page *page, const struct book_round *round)
{
    char lead[CODE_SIZE + 8] = "    fish: ", look[FIRST_LOOK_TEXT_SIZE];
    char sentence[ROUND_SENTENCE_SIZE];
    struct text *line = &page->line;
    struct text fates;
    text_init(&fates);
    fates_text(&round->fates, &fates);
    if (round->lot[0] != '\0')
        snprintf(lead, sizeof lead, "    %s: ", round->lot);
    text_add(line, "in ");
    count_text_add(&round->summary.counts.in, line);
    text_add(line, ", kept ");
    count_text_add(&round->summary.counts.kept, line);
    if (round->summary.counts.rejected != NOT_COUNTED)
        text_addf(line, ", rejected %" PRId64, round->summary.counts.rejected);
    else if (fates_any(&round->fates))
        text_add(line, ", rejected not counted");
    if (fates_any(&round->fates))
        text_addf(line, " (%s)", fates.data);
    if (round->summary.counts.dead != NOT_COUNTED)
        text_addf(line, ", dead %" PRId64, round->summary.counts.dead);
    page_line(page, lead);
    if (round->summary.whole > 0)
        page_add(page, "    ! ", round_not_done(&round->summary, sentence));
    if (round_pass_outdated(&round->summary))
        page_add(page, "    ! ", round_pass_sentence(&round->summary, sentence));
    if (round->first_look.looked_at > 0)
        page_add(page, "    first look: ", first_look_text(&round->first_look, look));
    text_done(&fates);
}

/* A stage's rate above the rounds it is made of; no rate where numbers are missing. */
static void add_stage(struct page *page, const struct book_entry *entry, enum stage stage)
{
    bool begun = false;
    for (size_t i = 0; i < entry->row_count && !begun; i++) {
        begun = entry->rows[i].first == stage && entry->rows[i].last == stage;
        if (begun)
            rates_add_row(page, &entry->rows[i]);
    }
    for (size_t i = 0; i < entry->round_count; i++) {
        if (entry->rounds[i].summary.round.stage != stage)
            continue;
        if (!begun)
            page_addf(page, "  %-14s no rate: a number is missing", stage_terms[stage].word);
        begun = true;
        add_round(page, &entry->rounds[i]);
    }
}

static void add_total(struct text *line, enum lot_event_kind kind, int64_t fish)
{
    if (fish > 0)
        text_addf(line, "%s %" PRId64 ", ", lot_event_terms[kind].word, fish);
}

/* What happened to a lot in all and how many fish it has now; then where its fish went. */
static void add_lot(struct page *page, const struct book_lot *lot)
{
    struct text *line = &page->line;
    text_addf(line, "lot%s%s: ", lot->lot[0] != '\0' ? " " : "", lot->lot);
    add_total(line, EVENT_DEAD, lot->book.dead);
    add_total(line, EVENT_LOST, lot->book.lost);
    add_total(line, EVENT_FOUND, lot->book.found);
    text_add(line, "now ");
    if (lot->book.overdrawn > 0)
        text_addf(line, "0 (%" PRId64 " more left it than it had)", lot->book.overdrawn);
    else
        count_text_add(&lot->book.now, line);
    if (lot->pond[0] != '\0')
        text_addf(line, ", pond %s", lot->pond);
    page_line(page, "    ");
    for (size_t i = 0; i < lot->transfer_count; i++) {
        text_addf(line, "%s ", lot->transfers[i].day);
        lot_news_add(&lot->transfers[i], line);
        page_line(page, "      ");
    }
}

const char hatched_too_many[] = "more hatched than eggs: a count is wrong";

static void add_fry(struct page *page, int64_t eggs, int64_t hatched)
{
    char percent[NUMBER_SIZE];
    if (eggs != NOT_COUNTED)
        text_addf(&page->line, "%" PRId64 " eggs", eggs);
    if (hatched != NOT_COUNTED)
        text_addf(&page->line, "%s%" PRId64 " hatched", eggs != NOT_COUNTED ? ", " : "", hatched);
    if (eggs > 0 && hatched != NOT_COUNTED) {
        number_to_tenth(100 * hatched, eggs, percent);
        text_addf(&page->line, " (%s %%)", percent);
    }
    page_line(page, "  ");
    if (eggs != NOT_COUNTED && hatched > eggs)
        page_add(page, "    ! ", hatched_too_many);
}

static void add_entry(struct page *page, const struct book_entry *entry)
{
    page_part(page, "%s", entry->title);
    if (entry->lot_origin[0] != '\0')
        page_add(page, "  ", entry->lot_origin);
    if (entry->note[0] != '\0')
        page_add(page, "  ", entry->note);
    add_fry(page, entry->eggs, entry->hatched);
    for (int stage = 0; stage < STAGE_COUNT; stage++)
        add_stage(page, entry, (enum stage)stage);
    for (size_t i = 0; i < entry->row_count; i++)
        if (entry->rows[i].first != entry->rows[i].last) /* chained */
            rates_add_row(page, &entry->rows[i]);
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
        page_addf(page, "    weighted by the fish kept: %.1f parents, %.1f %% in a generation",
                  parents->effective_by_fish,
                  100 * inbreeding_per_generation(parents->effective_by_fish));
    if (parents->left_out > 0)
        page_addf(page, "    %zu spawning%s without a named dam or sires left out",
                  parents->left_out, parents->left_out == 1 ? "" : "s");
}

static void add_season(struct page *page, const struct season_book *book)
{
    struct fates fates = {0};
    page_part(page, "All together");
    add_sum(page, book, false);
    add_sum(page, book, true);
    add_parents(page, &book->parents);
    for (size_t i = 0; i < book->season_row_count; i++)
        rates_add_row(page, &book->season_rows[i]);
    for (size_t i = 0; i < book->entry_count; i++)
        for (size_t j = 0; j < book->entries[i].round_count; j++)
            fates_add(&fates, &book->entries[i].rounds[j].fates);
    fates_text(&fates, &page->line);
    if (fates_any(&fates))
        page_line(page, "  rejects: ");
    text_clear(&page->line);
    if (book->season_row_count == 0)
        page_addf(page, "  no keep rate yet: no round has both numbers");
}

void season_book_print(const struct season_book *book, struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "Season book %d", book->season);
    page_heading(&page, "%s", rates_columns);
    for (size_t i = 0; i < book->entry_count; i++)
        add_entry(&page, &book->entries[i]);
    add_season(&page, book);
    page_finish(&page, out);
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
