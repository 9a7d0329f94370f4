/* The verdict of a fish so far, cached in its row for lists and counters: every stroke writes it, a
 * new version of the standard makes it anew, and the check compares it with the strokes. */
#include "cached_verdicts.h"

#include "query.h"
#include "senbetsu/store/fish.h"

#include <stdlib.h>

enum { NO_SCORE = -1 };

static void bind_verdict(struct query *query, struct ledger *ledger, int64_t fish,
                         const struct standing *standing)
{
    query_begin(query, ledger, SQL_VERDICT_SAVE);
    query_number(query, fish);
    query_text(query, verdict_terms[standing->verdict].word);
    query_number(query, standing->could_be_kept);
    query_number_or_null(query, standing->scored ? standing->score : NO_SCORE, NO_SCORE);
    query_number_or_null(query, standing->scored ? standing->unit : NO_SCORE, NO_SCORE);
}

static bool closes(const struct stroke *stroke)
{
    for (int i = 0; i < stroke->entry_count; i++)
        if (stroke->entries[i].kind == ENTRY_CLOSE)
            return true;
    return false;
}

bool verdict_save(struct ledger *ledger, const struct stroke *stroke,
                  const struct standing *standing, struct err *err)
{
    struct query query;
    bind_verdict(&query, ledger, stroke->fish, standing);
    if (stroke->undoes == 0) {
        query_number(&query, stroke->at_ms);
        if (closes(stroke)) {
            query_number(&query, stroke->at_ms);
            query_number_or_null(&query, stroke->judge, 0);
        }
        return query_run(&query, err);
    }
    /* What was taken back may have begun or closed the fish. */
    if (!query_run(&query, err))
        return false;
    query_begin(&query, ledger, SQL_INSTANTS_SAVE);
    query_number(&query, stroke->fish);
    return query_run(&query, err);
}

bool standing_scores(struct ledger *ledger, int64_t round_id, int64_t unit, int64_t **ret,
                     size_t *ret_count, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_VERDICT_SCORES);
    query_number(&query, round_id);
    query_number(&query, unit);
    return query_numbers(&query, ret, ret_count, err);
}

bool closings_of(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t since_ms,
                 int64_t **ret, size_t *ret_count, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_CLOSINGS);
    query_number(&query, round_id);
    query_number_or_null(&query, judge, 0);
    query_number(&query, since_ms);
    return query_numbers(&query, ret, ret_count, err);
}

static bool rebuild_one(struct ledger *ledger, const struct standard *standard,
                        const struct fish *fish, const struct verdict_reporter *reporter,
                        struct err *err)
{
    struct query query;
    struct judgement deciding = fish_deciding(fish, standard);
    struct standing standing = standing_of(standard, &deciding);
    bind_verdict(&query, ledger, fish->id, &standing);
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
    return fine;
}

bool verdicts_rebuild_by(struct ledger *ledger, const struct standard *standard, struct err *err)
{
    int64_t *rounds;
    size_t count;
    bool fine = true;
    struct query query;
    query_begin(&query, ledger, SQL_ROUNDS_BY_STANDARD);
    query_text(&query, standard->name);
    if (!query_numbers(&query, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = verdicts_rebuild(ledger, rounds[i], standard, NULL, err);
    free(rounds);
    return fine;
}
