/* Passes in the ledger. A pass keeps the verdict, reason and rank of every fish as they were when
 * it was made, so that it can be read, and disputed, long after its standard has changed. With it
 * goes the judgement it was decided on, by which the decision stands for as long as that does
 * (docs/decisions/standing.md). */
#include "senbetsu/store/passes.h"

#include "strokes.h"

enum { NO_PLACES = -1, NO_SCORE = -1 };

/* The counters by verdict tell how many fish there were then, without reading the decisions. */
static bool add_pass(struct ledger *ledger, int64_t id, const struct pass *pass,
                     const struct pass_decision *decisions, size_t count, struct err *err)
{
    int64_t latest = 0;
    int verdicts[VERDICT_COUNT] = {0};
    struct query query = query_with(ledger, SQL_PASS_REVISION, pass->round_id);
    if (!query_single(&query, &latest, err))
        return false;
    for (size_t i = 0; i < count; i++)
        verdicts[decisions[i].verdict]++;
    query = query_with(ledger, SQL_PASS_ADD, id);
    query_number(&query, pass->round_id);
    query_number(&query, latest + 1);
    query_number(&query, pass->standard_version);
    query_number_or_null(&query, pass->places, NO_PLACES);
    query_number_or_null(&query, pass->judge, 0);
    query_number(&query, pass->at_ms);
    for (int verdict = VERDICT_OPEN; verdict < VERDICT_COUNT; verdict++)
        query_number(&query, verdicts[verdict]);
    return query_run(&query, err);
}

static bool add_decision(struct ledger *ledger, int64_t pass, const struct pass_decision *decision,
                         struct err *err)
{
    struct query query = query_with(ledger, SQL_DECISION_ADD, pass);
    query_number(&query, decision->fish);
    query_text(&query, verdict_terms[decision->verdict].word);
    query_text(&query, decision->reason);
    query_text(&query, decision->reason_label);
    query_number_or_null(&query, decision->scored ? decision->score : NO_SCORE, NO_SCORE);
    query_number_or_null(&query, decision->scored ? decision->unit : NO_SCORE, NO_SCORE);
    query_number_or_null(&query, decision->scored ? decision->rank : 0, 0);
    return query_run(&query, err);
}

static bool record(struct ledger *ledger, const struct pass *pass,
                   const struct pass_decision *decisions, size_t count, int64_t *ret_id,
                   struct err *err)
{
    if (!new_id(ledger, ret_id, err) || !add_pass(ledger, *ret_id, pass, decisions, count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        if (!add_decision(ledger, *ret_id, &decisions[i], err))
            return false;
    struct query query = query_with(ledger, SQL_PASS_OF_ROUND, pass->round_id);
    query_number(&query, *ret_id);
    return query_run(&query, err) && round_stands(ledger, pass->round_id, err);
}

bool pass_record(struct ledger *ledger, struct pass *pass, const struct pass_decision *decisions,
                 size_t count, struct err *err)
{
    int64_t id;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, record(ledger, pass, decisions, count, &id, err), err))
        return false;
    pass->id = id;
    return true;
}

static void read_pass(struct query *query, void *ret_item)
{
    struct pass *ret = ret_item;
    ret->id = row_id(query);
    ret->round_id = row_id(query);
    ret->standard_version = row_id(query);
    ret->places = row_int_or(query, 0, FISH_MOST, NO_PLACES);
    ret->judge = row_id_or_none(query);
    ret->at_ms = row_instant(query);
}

bool pass_latest(struct ledger *ledger, int64_t round_id, struct pass *ret, struct err *err)
{
    struct query query = query_with(ledger, SQL_PASS_LATEST, round_id);
    return query_row(&query, read_pass, ret, "This round has had no pass yet.", err);
}

static void read_decision(struct query *query, void *ret_item)
{
    struct pass_decision *ret = ret_item;
    *ret = (struct pass_decision){.fish = row_id(query)};
    ret->verdict = (enum verdict)row_word(query, verdict_terms, VERDICT_COUNT);
    row_text(query, ret->reason, sizeof ret->reason);
    row_text(query, ret->reason_label, sizeof ret->reason_label);
    int64_t score = row_between_or(query, 0, SCORE_MOST, NO_SCORE);
    ret->unit = row_between_or(query, 1, SCORE_UNIT_MOST, 0);
    ret->rank = row_int_or(query, 1, FISH_MOST, 0);
    ret->scored = ret->unit != 0;
    ret->score = ret->scored ? score : 0;
    row_require(query, ret->scored == (score != NO_SCORE) && ret->scored == (ret->rank != 0));
}

bool pass_decisions(struct ledger *ledger, int64_t pass_id, struct pass_decision **ret,
                    size_t *ret_count, struct err *err)
{
    struct query query = query_with(ledger, SQL_DECISION_LIST, pass_id);
    return query_rows(&query, read_decision, sizeof **ret, ret, ret_count, err);
}
