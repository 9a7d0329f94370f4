/* Makes the book of a season. Spawnings and mixed lots are its entries; each takes its rows out of
 * the rates, its rounds out of the summaries and its lots out of the replay, so that the book
 * agrees with every other report.
 *
 * The effective number of parents is given twice: by heads, and by the fish kept of each, for the
 * next generation comes from those (stats/kinship.h). */
#include "senbetsu/report/season.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/code.h"
#include "senbetsu/report/families.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/stats/kinship.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/tallies.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The dams or the sires of a season, each once, and the fish credited to each. */
struct credits {
    char (*codes)[CODE_SIZE];
    double *fish;
    size_t count, code_capacity, fish_capacity;
};

static void credit(struct credits *credits, const char *code, double fish)
{
    size_t at = 0;
    while (at < credits->count && strcmp(credits->codes[at], code) != 0)
        at++;
    if (at == credits->count) {
        credits->codes =
            alloc_room(credits->codes, at, &credits->code_capacity, sizeof *credits->codes);
        credits->fish =
            alloc_room(credits->fish, at, &credits->fish_capacity, sizeof *credits->fish);
        text_copy(credits->codes[at], CODE_SIZE, code);
        credits->fish[at] = 0;
        credits->count++;
    }
    credits->fish[at] += fish;
}

static int count_codes(const char *list)
{
    int count = 1;
    for (; *list != '\0'; list++)
        count += *list == ';';
    return count;
}

static void credit_spawning(const struct parentage *spawning, struct credits *dams,
                            struct credits *sires)
{
    double fish = spawning->kept == NOT_COUNTED ? 0 : (double)spawning->kept;
    double share = fish / count_codes(spawning->sires);
    const char *left = spawning->sires;
    char sire[CODE_SIZE];
    credit(dams, spawning->dam, fish);
    while (code_next(&left, sire))
        credit(sires, sire, share);
}

static double number_by_fish(const struct credits *credits)
{
    return effective_number(credits->fish, (int)credits->count);
}

static void credits_done(struct credits *credits)
{
    free(credits->codes);
    free(credits->fish);
}

struct season_parents season_parents_sum(const struct parentage *spawnings, size_t count)
{
    struct season_parents parents = {0};
    struct credits dams = {0};
    struct credits sires = {0};
    bool counted = true;
    for (size_t i = 0; i < count; i++) {
        if (spawnings[i].dam[0] == '\0' || spawnings[i].sires[0] == '\0') {
            parents.left_out++;
            continue;
        }
        credit_spawning(&spawnings[i], &dams, &sires);
        counted = counted && spawnings[i].kept != NOT_COUNTED;
    }
    parents.dams = dams.count;
    parents.sires = sires.count;
    parents.effective = effective_parents((double)dams.count, (double)sires.count);
    if (counted)
        parents.effective_by_fish =
            effective_parents(number_by_fish(&dams), number_by_fish(&sires));
    credits_done(&dams);
    credits_done(&sires);
    return parents;
}

/* The rows of one key stand together. */
static void take_rows(const struct rates *rates, const char *key, const char *spawnings, int season,
                      const struct rate_row **ret, size_t *ret_count)
{
    for (size_t i = 0; i < rates->count; i++) {
        const struct rate_row *row = &rates->rows[i];
        if (strcmp(row->key, key) != 0 || strcmp(row->spawnings, spawnings) != 0 ||
            row->season != season)
            continue;
        if ((*ret_count)++ == 0)
            *ret = row;
    }
}

static const struct lot_origin *lot_of(const struct season_book *book,
                                       const struct round_summary *summary)
{
    return lot_origin_find(book->by_lot.lots, book->by_lot.lot_count, summary->round.lot_id);
}

static int compare_rounds(const void *left, const void *right)
{
    const struct book_round *a = left;
    const struct book_round *b = right;
    enum stage stages[] = {a->summary.round.stage, b->summary.round.stage};
    return stages[0] != stages[1] ? (stages[0] > stages[1]) - (stages[0] < stages[1])
                                  : strcmp(a->lot, b->lot);
}

/* Is it one of a spawning's lots, or the one mixed lot? */
static bool belongs(const struct lot_origin *lot, int64_t spawning_id, int64_t mixed_lot_id)
{
    return lot->mixed ? lot->lot_id == mixed_lot_id : lot->spawning_id == spawning_id;
}

static void take_rounds(struct book_entry *entry, const struct season_book *book,
                        int64_t spawning_id, int64_t mixed_lot_id)
{
    size_t count = 0;
    for (size_t i = 0; i < book->round_count; i++)
        count += belongs(lot_of(book, &book->rounds[i].summary), spawning_id, mixed_lot_id);
    entry->rounds = alloc_zeroed(count, sizeof *entry->rounds);
    for (size_t i = 0; i < book->round_count; i++)
        if (belongs(lot_of(book, &book->rounds[i].summary), spawning_id, mixed_lot_id))
            entry->rounds[entry->round_count++] = book->rounds[i];
    if (count > 0)
        qsort(entry->rounds, count, sizeof *entry->rounds, compare_rounds);
}

/* Anything but fish that came in: those are told of the lot they came from. */
static bool has_events(const struct season_book *book, int64_t lot_id)
{
    for (size_t i = 0; i < book->event_count; i++)
        if (book->events[i].lot_id == lot_id)
            return true;
    return false;
}

static bool went_from(const struct lot_event *event, const struct lot_line *line)
{
    return event->kind == EVENT_TRANSFER && event->lot_id == line->of.lot_id;
}

static void take_transfers(struct book_lot *lot, const struct season_book *book,
                           const struct lot_line *line)
{
    size_t count = 0;
    for (size_t i = 0; i < book->event_count; i++)
        count += went_from(&book->events[i], line);
    lot->transfers = alloc_zeroed(count, sizeof *lot->transfers);
    for (size_t i = 0; i < book->event_count; i++)
        if (went_from(&book->events[i], line))
            lot->transfers[lot->transfer_count++] = lot_news_of(&book->events[i], &line->of);
}

static void add_lot(struct book_entry *entry, const struct season_book *book,
                    const struct lot_line *line)
{
    struct book_lot *lot = &entry->lots[entry->lot_count++];
    bool named = !line->of.own && !line->of.mixed;
    *lot =
        (struct book_lot){.lot = named ? line->of.lot : "", .pond = line->pond, .book = line->book};
    take_transfers(lot, book, line);
}

static bool has_news(const struct season_book *book, const struct lot_line *line)
{
    return line->book.moved_in > 0 || has_events(book, line->of.lot_id);
}

/* Those to which something happened. */
static void take_lots(struct book_entry *entry, const struct season_book *book, int64_t spawning_id,
                      int64_t mixed_lot_id)
{
    size_t count = 0;
    for (size_t i = 0; i < book->lot_count; i++)
        count += belongs(&book->lots[i].of, spawning_id, mixed_lot_id);
    entry->lots = alloc_zeroed(count, sizeof *entry->lots);
    for (size_t i = 0; i < book->lot_count; i++) {
        const struct lot_line *line = &book->lots[i];
        if (belongs(&line->of, spawning_id, mixed_lot_id) && has_news(book, line))
            add_lot(entry, book, line);
    }
}

static char *title(const char *code, const char *variety, const char *date)
{
    struct text text;
    text_init(&text);
    text_add(&text, code);
    if (variety[0] != '\0')
        text_addf(&text, ", %s", variety);
    if (date[0] != '\0')
        text_addf(&text, ", %s", date);
    return text.data;
}

static void add_spawning(struct season_book *book, const struct spawning *spawning)
{
    char pair[CODES_SIZE + 2 * CODE_SIZE];
    struct book_entry *entry = &book->entries[book->entry_count++];
    book->spawning_entries++;
    *entry = (struct book_entry){
        .title = title(spawning->code, spawning->variety, spawning->date),
        .lot_origin = alloc_text(pair_text(spawning, pair, sizeof pair)),
        .note = spawning->note,
        .eggs = spawning->eggs,
        .hatched = spawning->hatched,
    };
    take_rows(&book->by_spawning, spawning->code, "", spawning->season, &entry->rows,
              &entry->row_count);
    take_rounds(entry, book, spawning->id, 0);
    take_lots(entry, book, spawning->id, 0);
}

static void add_mixed(struct season_book *book, const struct lot_origin *lot)
{
    struct text lot_origin;
    struct book_entry *entry = &book->entries[book->entry_count++];
    text_init(&lot_origin);
    text_addf(&lot_origin, "mixed from %s; credited to none of them", lot->spawnings);
    *entry = (struct book_entry){
        .title = title(lot->lot, lot->variety, ""),
        .lot_origin = lot_origin.data,
        .note = "",
        .eggs = NOT_COUNTED,
        .hatched = NOT_COUNTED,
    };
    take_rows(&book->by_lot, lot->lot, lot->spawnings, lot->season, &entry->rows,
              &entry->row_count);
    take_rounds(entry, book, 0, lot->lot_id);
    take_lots(entry, book, 0, lot->lot_id);
}

/* At the last cull that is done and has both numbers; chained rows are of no one cull. */
static int64_t last_kept(const struct book_entry *entry)
{
    const struct rate_row *last = NULL;
    for (size_t i = 0; i < entry->row_count; i++) {
        const struct rate_row *row = &entry->rows[i];
        if (row->first == row->last && row->cull.whole == 0 &&
            (last == NULL || row->first > last->first))
            last = row;
    }
    return last == NULL ? NOT_COUNTED : last->cull.kept;
}

static bool is_of(const struct season_book *book, const struct spawning *spawning)
{
    return spawning->season == book->season && selection_takes_spawning(book->of, spawning);
}

/* The entries begin with the season's spawnings, in the ledger's order. */
static void sum_parents(struct season_book *book)
{
    struct parentage *parents = alloc_zeroed(book->spawning_entries, sizeof *parents);
    size_t count = 0;
    for (size_t i = 0; i < book->spawning_count; i++) {
        const struct spawning *spawning = &book->spawnings[i];
        if (!is_of(book, spawning))
            continue;
        parents[count] = (struct parentage){.dam = spawning->dam,
                                            .sires = spawning->sires,
                                            .kept = last_kept(&book->entries[count])};
        count++;
    }
    book->parents = season_parents_sum(parents, count);
    free(parents);
}

static void fill(struct season_book *book)
{
    char year[16];
    const struct rates *lots = &book->by_lot;
    book->entries = alloc_zeroed(book->spawning_count + lots->lot_count, sizeof *book->entries);
    for (size_t i = 0; i < book->spawning_count; i++)
        if (is_of(book, &book->spawnings[i]))
            add_spawning(book, &book->spawnings[i]);
    for (size_t i = 0; i < lots->lot_count; i++)
        if (lots->lots[i].mixed && lots->lots[i].season == book->season &&
            selection_takes(book->of, &lots->lots[i]))
            add_mixed(book, &lots->lots[i]);
    snprintf(year, sizeof year, "%d", book->season);
    take_rows(&book->by_season, year, "", book->season, &book->season_rows,
              &book->season_row_count);
    sum_parents(book);
}

static bool make_round(struct ledger *ledger, const struct round_summary *summary,
                       const struct lot_origin *lot, struct book_round *ret, struct err *err)
{
    *ret = (struct book_round){.summary = *summary, .lot = lot->own || lot->mixed ? "" : lot->lot};
    if (!first_look_get(ledger, summary->round.id, &ret->first_look, err) ||
        !reject_fates_get(ledger, summary->round.id, &ret->fates, err))
        return false;
    fates_settle(&ret->fates, round_counts_rejected(&summary->counts), summary->round.fate);
    return true;
}

/* The rounds of the season's lots. */
static bool list_rounds(struct ledger *ledger, struct season_book *book, struct err *err)
{
    struct round_summary *rounds;
    size_t count;
    bool done = true;
    if (!round_summary_list(ledger, NULL, &rounds, &count, err))
        return false;
    book->rounds = alloc_zeroed(count, sizeof *book->rounds);
    for (size_t i = 0; i < count && done; i++) {
        const struct lot_origin *lot = lot_of(book, &rounds[i]);
        if (lot != NULL && lot->season == book->season && selection_takes(book->of, lot))
            done = make_round(ledger, &rounds[i], lot, &book->rounds[book->round_count++], err);
    }
    free(rounds);
    return done;
}

static bool make_rates(struct ledger *ledger, const struct rates_source *source,
                       struct season_book *book, struct err *err)
{
    return rates_make_of(ledger, source, BY_SPAWNING, -1, book->of, &book->by_spawning, err) &&
           rates_make_of(ledger, source, BY_LOT, -1, book->of, &book->by_lot, err) &&
           rates_make_of(ledger, source, BY_SEASON, -1, book->of, &book->by_season, err);
}

static bool list_sources(struct ledger *ledger, struct season_book *book, struct err *err)
{
    struct rates_source source;
    if (!spawning_list(ledger, &book->spawnings, &book->spawning_count, err) ||
        !rates_source_init(&source, ledger, err))
        return false;
    bool listed = lot_lines_among(ledger, source.rounds, source.round_count, &book->lots,
                                  &book->lot_count, err) &&
                  make_rates(ledger, &source, book, err) && list_rounds(ledger, book, err);
    book->events = source.events;
    book->event_count = source.event_count;
    source.events = NULL;
    rates_source_done(&source);
    return listed;
}

bool season_book_make(struct ledger *ledger, int season, const struct selection *of,
                      struct season_book *ret, struct err *err)
{
    struct season_book book = {.season = season, .of = of};
    bool done = list_sources(ledger, &book, err);
    if (done) {
        fill(&book);
        if (book.spawning_entries == 0)
            done = err_set(err, ERR_ABSENT, "There is no %sspawning of the season %d.",
                           of != NULL ? "such " : "", season);
    }
    book.of = NULL;
    if (done)
        *ret = book;
    else
        season_book_done(&book);
    return done;
}

bool season_current(struct ledger *ledger, const char *day, int *ret_season, struct err *err)
{
    struct spawning *spawnings;
    size_t count, i = 0;
    int year = date_year(day);
    if (!spawning_list(ledger, &spawnings, &count, err))
        return false;
    while (i < count && spawnings[i].season > year)
        i++;
    *ret_season = i < count ? spawnings[i].season : year;
    free(spawnings);
    return true;
}

void season_book_done(struct season_book *book)
{
    for (size_t i = 0; i < book->entry_count; i++) {
        free(book->entries[i].title);
        free(book->entries[i].lot_origin);
        free(book->entries[i].rounds);
        for (size_t j = 0; j < book->entries[i].lot_count; j++)
            free(book->entries[i].lots[j].transfers);
        free(book->entries[i].lots);
    }
    free(book->entries);
    free(book->rounds);
    free(book->spawnings);
    free(book->events);
    lot_lines_free(book->lots, book->lot_count);
    rates_done(&book->by_spawning);
    rates_done(&book->by_lot);
    rates_done(&book->by_season);
}
