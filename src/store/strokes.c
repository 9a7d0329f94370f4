/* Strokes, and the verdict of each fish as cached with them. A key at the sheet is one small
 * transaction, so it writes as few rows as it can: a score that decides nothing leaves fish, bowl
 * and round as they are.
 *
 * What a fish is judged to be stands in its row, for lists and counters would have to sum all
 * strokes otherwise; and what stands of it (docs/decisions/standing.md), for they would have to ask
 * the latest pass. Every stroke writes both, a new version of the standard makes them anew, and the
 * check compares them with the strokes and the pass. */
#include "strokes.h"

#include "senbetsu/base/alloc.h"

#include "senbetsu/store/fish.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum { NO_SCORE = -1 };

/* The last one that counts in the order of a look; 0 = it has none yet. */
static bool last_seq(struct ledger *ledger, const struct stroke *stroke, int64_t *ret,
                     struct err *err)
{
    struct query query = query_with(ledger, SQL_STROKE_SEQ, stroke->fish);
    query_number(&query, stroke->look);
    return query_single(&query, ret, err);
}

static bool add_stroke(struct ledger *ledger, int64_t id, int64_t seq, const struct stroke *stroke,
                       struct err *err)
{
    struct stroke_texts texts;
    struct query query = query_with(ledger, SQL_STROKE_ADD, id);
    query_number(&query, stroke->fish);
    query_number_or_null(&query, stroke->judge, 0);
    query_number(&query, stroke->look);
    query_number(&query, seq);
    query_number(&query, stroke->checking);
    query_number(&query, stroke->correction);
    query_number(&query, stroke->at_ms);
    query_number_or_null(&query, stroke->undoes, 0);
    bool bound = stroke_row_bind(&query, stroke, &texts, err);
    return bound ? query_run(&query, err) : query_end(&query, NULL) && false;
}

static struct query verdict_query(struct ledger *ledger, enum sql sql, int64_t fish,
                                  const struct cached_verdict *cached)
{
    struct query query = query_with(ledger, sql, fish);
    query_text(&query, verdict_terms[cached->verdict].word);
    query_number(&query, cached->no_place);
    query_text(&query, cached->judgement);
    query_number(&query, cached->key);
    query_number(&query, cached->could_be_kept);
    query_number_or_null(&query, cached->scored ? cached->score : NO_SCORE, NO_SCORE);
    query_number_or_null(&query, cached->scored ? cached->unit : NO_SCORE, NO_SCORE);
    return query;
}

bool fish_stands(struct ledger *ledger, int64_t fish, struct err *err)
{
    struct query query = query_with(ledger, SQL_FISH_STANDS, fish);
    return query_run(&query, err);
}

bool round_stands(struct ledger *ledger, int64_t round_id, struct err *err)
{
    struct query query = query_with(ledger, SQL_ROUND_STANDS, round_id);
    return query_run(&query, err);
}

static bool closes_fish(const struct stroke *stroke)
{
    bool closes = false;
    for (int i = 0; i < stroke->entry_count; i++)
        closes |= stroke->entries[i].kind == ENTRY_CLOSE;
    return closes;
}

/* Writes what a fish's verdict is with `stroke`, when it was first looked at and when and by whom
 * it was last closed. */
static bool save_verdict(struct ledger *ledger, const struct stroke *stroke,
                         const struct cached_verdict *cached, struct err *err)
{
    bool closes = closes_fish(stroke);
    struct query query = verdict_query(ledger, SQL_VERDICT_SAVE, stroke->fish, cached);
    if (stroke->undoes == 0)
        query_number(&query, stroke->at_ms);
    if (stroke->undoes == 0 && closes) {
        query_number(&query, stroke->at_ms);
        query_number_or_null(&query, stroke->judge, 0);
    }
    if (!query_run(&query, err) || !fish_stands(ledger, stroke->fish, err))
        return false;
    if (stroke->undoes == 0)
        return true;
    /* What was taken back may have begun or closed the fish. */
    query = query_with(ledger, SQL_INSTANTS_SAVE, stroke->fish);
    return query_run(&query, err);
}

static bool record(struct ledger *ledger, const struct stroke *stroke,
                   const struct cached_verdict *cached, const struct place *place, int64_t *ret_id,
                   struct err *err)
{
    int64_t seq = 0;
    return new_id(ledger, ret_id, err) && last_seq(ledger, stroke, &seq, err) &&
           add_stroke(ledger, *ret_id, seq + 1, stroke, err) &&
           (cached == NULL || save_verdict(ledger, stroke, cached, err)) &&
           place_write(ledger, place, err);
}

bool stroke_record(struct ledger *ledger, struct stroke *stroke,
                   const struct cached_verdict *cached, const struct place *place, struct err *err)
{
    int64_t id;
    assert(stroke->fish != 0 && stroke->look > 0);
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, record(ledger, stroke, cached, place, &id, err), err))
        return false;
    stroke->id = id;
    return true;
}

static bool add_fish(struct ledger *ledger, int64_t bowl_id, int number,
                     const struct stroke *stroke, const struct cached_verdict *cached,
                     struct err *err)
{
    struct query query = verdict_query(ledger, SQL_FISH_ADD_JUDGED, stroke->fish, cached);
    query_number(&query, bowl_id);
    query_number(&query, number);
    query_number(&query, stroke->at_ms);
    if (closes_fish(stroke)) {
        query_number(&query, stroke->at_ms);
        query_number_or_null(&query, stroke->judge, 0);
    }
    return query_run(&query, err);
}

bool fish_record(struct ledger *ledger, int64_t bowl_id, int number, struct stroke *stroke,
                 const struct cached_verdict *cached, struct err *err)
{
    int64_t id = 0;
    assert(stroke->fish == 0);
    if (!transaction_begin(ledger, err))
        return false;
    bool done = new_id(ledger, &stroke->fish, err) &&
                add_fish(ledger, bowl_id, number, stroke, cached, err) &&
                new_id(ledger, &id, err) && add_stroke(ledger, id, 1, stroke, err);
    if (!transaction_end(ledger, done, err)) {
        stroke->fish = 0;
        return false;
    }
    stroke->id = id;
    return true;
}

static void read_undoable(struct query *query, void *ret_item)
{
    struct undoable *ret = ret_item;
    ret->stroke = row_id(query);
    ret->fish = row_id(query);
}

bool undoable_of(struct ledger *ledger, int64_t round_id, int64_t bowl_id, struct undoable **ret,
                 size_t *ret_count, struct err *err)
{
    struct query query = query_with(
        ledger, bowl_id != 0 ? SQL_UNDOABLE_OF_BOWL : SQL_UNDOABLE_SECOND_LOOKS, round_id);
    if (bowl_id != 0)
        query_number(&query, bowl_id);
    return query_rows(&query, read_undoable, sizeof **ret, ret, ret_count, err);
}

bool tie_undoable(struct ledger *ledger, int64_t round_id, struct undoable *ret, struct err *err)
{
    struct query query = query_with(ledger, SQL_UNDOABLE_TIE, round_id);
    query_text(&query, TIE_REASON);
    return query_row(&query, read_undoable, ret, "No fish was taken or left for a tie.", err);
}

bool verdict_scores(struct ledger *ledger, int64_t round_id, int64_t unit, int64_t **ret,
                    size_t *ret_count, struct err *err)
{
    struct query query = query_with(ledger, SQL_VERDICT_SCORES, round_id);
    query_number(&query, unit);
    return query_numbers(&query, 0, SCORE_MOST, ret, ret_count, err);
}

bool closings_of(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t since_ms,
                 int64_t **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_with(ledger, SQL_CLOSINGS, round_id);
    query_number_or_null(&query, judge, 0);
    query_number(&query, since_ms);
    return query_instants(&query, ret, ret_count, err);
}

bool closings_of_round(struct ledger *ledger, int64_t round_id, struct closings *ret,
                       struct err *err)
{
    struct closings read = {.count = 0};
    size_t judges = 0, instants = 0;
    struct query query = query_with(ledger, SQL_CLOSINGS_OF_ROUND, round_id);
    while (query_step(&query)) {
        read.judges = alloc_room(read.judges, read.count, &judges, sizeof *read.judges);
        read.instants = alloc_room(read.instants, read.count, &instants, sizeof *read.instants);
        read.judges[read.count] = row_id_or_none(&query);
        read.instants[read.count++] = row_instant(&query);
    }
    if (!query_end(&query, err)) {
        closings_done(&read);
        return false;
    }
    *ret = read;
    return true;
}

const int64_t *closings_by(const struct closings *closings, int64_t judge, size_t *ret_count)
{
    size_t first = 0, end;
    while (first < closings->count && closings->judges[first] != judge)
        first++;
    for (end = first; end < closings->count && closings->judges[end] == judge;)
        end++;
    *ret_count = end - first;
    return first < closings->count ? &closings->instants[first] : NULL;
}

void closings_done(struct closings *closings)
{
    free(closings->judges);
    free(closings->instants);
    *closings = (struct closings){.count = 0};
}

static bool rebuild_one(struct ledger *ledger, const struct standard *standard,
                        const struct fish *fish, const struct verdict_reporter *reporter,
                        struct err *err)
{
    struct cached_verdict cached = fish_cached_verdict(fish, standard);
    struct query query = verdict_query(ledger, SQL_VERDICT_SAVE, fish->id, &cached);
    if (!query_run(&query, err))
        return false;
    if (reporter != NULL && sqlite3_changes(ledger->db) > 0)
        reporter->differs(reporter->context, fish->bowl, fish->number);
    return true;
}

bool verdicts_rebuild(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                      const struct verdict_reporter *reporter, struct err *err)
{
    struct fish *fish = NULL;
    size_t count = 0;
    bool fine = fish_of_round(ledger, round_id, standard, &fish, &count, err);
    for (size_t i = 0; fine && i < count; i++)
        fine = rebuild_one(ledger, standard, &fish[i], reporter, err);
    free(fish);
    return fine && round_stands(ledger, round_id, err);
}

/* The fish of a round as their rows say, one after another beside those that the strokes say. */
struct comparison {
    struct query query;
    const struct standard *standard;
    const struct verdict_reporter *reporter;
};

/* A cell may hold anything: what is not as it should be differs. */
static bool says_text(struct query *query, const char *text)
{
    const unsigned char *cell = sqlite3_column_text(query->statement, query->column++);
    return cell != NULL && strcmp((const char *)cell, text) == 0;
}

static bool says_number(struct query *query, bool known, int64_t number)
{
    int column = query->column++;
    int type = sqlite3_column_type(query->statement, column);
    return known
               ? type == SQLITE_INTEGER && sqlite3_column_int64(query->statement, column) == number
               : type == SQLITE_NULL;
}

static bool says_verdict(struct query *query, const struct cached_verdict *cached)
{
    return says_text(query, verdict_terms[cached->verdict].word) &&
           says_number(query, true, cached->no_place) && says_text(query, cached->judgement) &&
           says_number(query, true, cached->key) &&
           says_number(query, true, cached->could_be_kept) &&
           says_number(query, cached->scored, cached->score) &&
           says_number(query, cached->scored, cached->unit);
}

static void compare_one(void *context, const struct fish *fish)
{
    struct comparison *comparison = context;
    struct query *query = &comparison->query;
    struct cached_verdict cached = fish_cached_verdict(fish, comparison->standard);
    if (!query_step(query))
        return;
    row_require(query, row_id(query) == fish->id);
    if (!says_verdict(query, &cached))
        comparison->reporter->differs(comparison->reporter->context, fish->bowl, fish->number);
}

bool verdicts_compare(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                      const struct verdict_reporter *reporter, struct err *err)
{
    struct comparison comparison = {.standard = standard, .reporter = reporter};
    ledger_read_begin(ledger);
    comparison.query = query_with(ledger, SQL_VERDICTS_OF_ROUND, round_id);
    bool read = fish_each_of_round(ledger, round_id, standard, compare_one, &comparison, err);
    bool ended = query_end(&comparison.query, read ? err : NULL);
    ledger_read_end(ledger);
    return read && ended;
}

bool verdicts_rebuild_by(struct ledger *ledger, const struct standard *standard, struct err *err)
{
    int64_t *rounds;
    size_t count;
    bool fine = true;
    struct query query = query_begin(ledger, SQL_ROUNDS_BY_STANDARD);
    query_text(&query, standard->name);
    if (!query_ids(&query, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = verdicts_rebuild(ledger, rounds[i], standard, NULL, err);
    free(rounds);
    return fine;
}
