/* Passes in the ledger. A pass keeps the verdict, reason and rank of every fish as they were when
 * it was made, so that it can be read, and disputed, long after its standard has changed. With it
 * goes the judgement it was decided on, by which the decision stands for as long as that does
 * (docs/decisions/standing.md). */
#include "senbetsu/store/passes.h"

#include "strokes.h"

#include <stdlib.h>

enum { NO_PLACES = -1, NO_SCORE = -1 };

/* The counters by verdict tell how many fish there were then, without reading the decisions. */
static bool add_pass(struct ledger *ledger, int64_t id, const struct pass *pass,
                     const struct pass_decisions *decisions, struct err *err)
{
    int64_t latest = 0;
    int verdicts[VERDICT_COUNT] = {0};
    struct query query = query_with(ledger, SQL_PASS_REVISION, pass->round_id);
    if (!query_single(&query, &latest, err))
        return false;
    for (size_t i = 0; i < decisions->count; i++)
        verdicts[decisions->fish[i].verdict]++;
    query = query_with(ledger, SQL_PASS_ADD, id);
    query_number(&query, pass->round_id);
    query_number(&query, latest + 1);
    query_number(&query, pass->standard_version);
    query_number_or_null(&query, pass->places, NO_PLACES);
    query_number(&query, pass->unit);
    query_number_or_null(&query, pass->judge, 0);
    query_number(&query, pass->at_ms);
    for (int verdict = VERDICT_OPEN; verdict < VERDICT_COUNT; verdict++)
        query_number(&query, verdicts[verdict]);
    return query_run(&query, err);
}

static bool add_reasons(struct ledger *ledger, int64_t pass, const struct pass_decisions *decisions,
                        struct err *err)
{
    bool fine = true;
    for (size_t i = 0; fine && i < decisions->reason_count; i++) {
        struct query query = query_with(ledger, SQL_DECISION_REASON_ADD, pass);
        query_number(&query, (int64_t)i + 1);
        query_text(&query, decisions->reasons[i].code);
        query_text(&query, decisions->reasons[i].label);
        fine = query_run(&query, err);
    }
    return fine;
}

static void bind_decision(struct query *query, int64_t pass, const struct pass_decision *decision)
{
    bool scored = decision->rank != 0;
    query_number(query, decision->fish);
    query_number(query, decision->fish);
    query_number(query, pass);
    query_text(query, verdict_terms[decision->verdict].word);
    query_number(query, decision->reason + 1);
    query_number_or_null(query, scored ? decision->score : NO_SCORE, NO_SCORE);
    query_number_or_null(query, decision->rank, 0);
}

static bool add_decisions(struct ledger *ledger, int64_t pass,
                          const struct pass_decisions *decisions, struct err *err)
{
    enum { TOGETHER = 16 }; /* as many as SQL_DECISIONS_ADD has rows */
    bool fine = true;
    for (size_t i = 0, rows; fine && i < decisions->count; i += rows) {
        rows = decisions->count - i < TOGETHER ? 1 : TOGETHER;
        struct query query = query_begin(ledger, rows == 1 ? SQL_DECISION_ADD : SQL_DECISIONS_ADD);
        for (size_t row = 0; row < rows; row++)
            bind_decision(&query, pass, &decisions->fish[i + row]);
        fine = query_run(&query, err);
    }
    return fine;
}

static bool let_decision_stand(struct ledger *ledger, const struct pass_decision *decision,
                               struct err *err)
{
    if (decision->stands)
        return true;
    struct query query = query_with(ledger, SQL_DECISION_STANDS, decision->fish);
    query_text(&query, verdict_terms[decision->verdict].word);
    return query_run(&query, err);
}

/* It has seen its fish as they are; what stands of any other hangs on whether it is in the pass. */
static bool let_stand(struct ledger *ledger, int64_t round_id,
                      const struct pass_decisions *decisions, struct err *err)
{
    int64_t fish = 0;
    for (size_t i = 0; i < decisions->count; i++)
        if (!let_decision_stand(ledger, &decisions->fish[i], err))
            return false;
    struct query query = query_with(ledger, SQL_FISH_IN_ROUND, round_id);
    return query_single(&query, &fish, err) &&
           ((size_t)fish == decisions->count || round_stands(ledger, round_id, err));
}

static bool record(struct ledger *ledger, const struct pass *pass,
                   const struct pass_decisions *decisions, int64_t *ret_id, struct err *err)
{
    if (!new_id(ledger, ret_id, err) || !add_pass(ledger, *ret_id, pass, decisions, err) ||
        !add_reasons(ledger, *ret_id, decisions, err) ||
        !add_decisions(ledger, *ret_id, decisions, err))
        return false;
    struct query query = query_with(ledger, SQL_PASS_OF_ROUND, pass->round_id);
    query_number(&query, *ret_id);
    return query_run(&query, err) && let_stand(ledger, pass->round_id, decisions, err);
}

bool pass_record(struct ledger *ledger, struct pass *pass, const struct pass_decisions *decisions,
                 struct err *err)
{
    int64_t id;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, record(ledger, pass, decisions, &id, err), err))
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
    ret->unit = row_between(query, 1, SCORE_UNIT_MOST);
    ret->judge = row_id_or_none(query);
    ret->at_ms = row_instant(query);
}

bool pass_latest(struct ledger *ledger, int64_t round_id, struct pass *ret, struct err *err)
{
    struct query query = query_with(ledger, SQL_PASS_LATEST, round_id);
    return query_row(&query, read_pass, ret, "This round has had no pass yet.", err);
}

static void read_reason(struct query *query, void *ret_item)
{
    struct decision_reason *ret = ret_item;
    row_text(query, ret->code, sizeof ret->code);
    row_text(query, ret->label, sizeof ret->label);
}

static void read_decision(struct query *query, void *ret_item)
{
    struct pass_decision *ret = ret_item;
    *ret = (struct pass_decision){.fish = row_id(query)};
    ret->verdict = (enum verdict)row_word(query, verdict_terms, VERDICT_COUNT);
    ret->reason = row_int(query, 1, FISH_MOST) - 1;
    int64_t score = row_between_or(query, 0, SCORE_MOST, NO_SCORE);
    ret->rank = row_int_or(query, 1, FISH_MOST, 0);
    row_require(query, (score != NO_SCORE) == (ret->rank != 0));
    ret->score = ret->rank != 0 ? score : 0;
}

static bool have_reasons(const struct ledger *ledger, const struct pass_decisions *decisions,
                         struct err *err)
{
    for (size_t i = 0; i < decisions->count; i++)
        if ((size_t)decisions->fish[i].reason >= decisions->reason_count)
            return ledger_damaged(ledger, err, "a decision without its reason");
    return true;
}

bool pass_decisions_get(struct ledger *ledger, int64_t pass_id, struct pass_decisions *ret,
                        struct err *err)
{
    struct pass_decisions read = {.count = 0};
    struct query query = query_with(ledger, SQL_DECISION_REASONS, pass_id);
    if (!query_rows(&query, read_reason, sizeof *read.reasons, &read.reasons, &read.reason_count,
                    err))
        return false;
    query = query_with(ledger, SQL_DECISION_LIST, pass_id);
    if (query_rows(&query, read_decision, sizeof *read.fish, &read.fish, &read.count, err) &&
        have_reasons(ledger, &read, err)) {
        *ret = read;
        return true;
    }
    pass_decisions_done(&read);
    return false;
}

void pass_decisions_done(struct pass_decisions *decisions)
{
    free(decisions->reasons);
    free(decisions->fish);
    *decisions = (struct pass_decisions){.count = 0};
}
