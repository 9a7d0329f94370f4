/* Retiring and bringing back. A record goes with all that is below it: each row gets the same
 * instant, one that no other retirement has, and by this instant they come back together; what had
 * been retired by itself before stays so. That every row says for itself whether it is retired
 * keeps the live_ views free of joins, for every key at the sheet reads through them. */
#include "senbetsu/store/retired.h"

#include "audit_log.h"
#include "retired.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"
#include "strokes.h"

#include <stdlib.h>
#include <string.h>

/* A statement that lists what stands against something, and the sentence over its first row. */
struct objection {
    enum sql sql;
    const char *format; /* a '%' is the row's next column */
};

enum { OBJECTIONS = 2 };

static const struct record_rules {
    const char *table;
    enum sql since, retire, bring_back;
    struct objection to_retiring[OBJECTIONS];
    struct objection to_bringing_back[OBJECTIONS];
} rules[RECORD_KIND_COUNT] = {
    [RECORD_JUDGE] = {"judge",
                      SQL_JUDGE_SINCE,
                      SQL_JUDGE_RETIRE,
                      SQL_JUDGE_BRING_BACK,
                      {{SQL_JUDGE_DID, "% has judged; say whose name it should have been."}},
                      {{SQL_JUDGE_NAME_TAKEN,
                        "There is another judge % now; rename that one first."}}},
    [RECORD_VARIETY] =
        {"variety",
         SQL_VARIETY_SINCE,
         SQL_VARIETY_RETIRE,
         SQL_VARIETY_BRING_BACK,
         {{SQL_VARIETY_OF_SPAWNING, "% is the variety of spawning %; change or retire that first."},
          {SQL_VARIETY_OF_PARENT, "% is the variety of %; change or retire that first."}},
         {{0}}},
    [RECORD_PARENT] =
        {"parent",
         SQL_PARENT_SINCE,
         SQL_PARENT_RETIRE,
         SQL_PARENT_BRING_BACK,
         {{SQL_PARENT_SPAWNED, "% is the % of spawning %; change or retire that first."},
          {SQL_PARENT_CHILD, "% is the % of %; change or retire that first."}},
         {{SQL_PARENT_CODE_TAKEN, "There is another parent % now; rename that one first."},
          {SQL_PARENT_FOREBEAR_RETIRED,
           "% descends from %, which is retired; bring % back first."}}},
    [RECORD_SPAWNING] =
        {"spawning",
         SQL_SPAWNING_SINCE,
         SQL_SPAWNING_RETIRE,
         SQL_SPAWNING_BRING_BACK,
         {{SQL_SPAWNING_MIXED, "Fish of spawning % are in the mixed lot %; undo that, or retire "
                               "the lot, first."}},
         {{SQL_SPAWNING_CODE_TAKEN, "There is another spawning % now; rename that one first."},
          {SQL_SPAWNING_PARENT_RETIRED,
           "Spawning % has the parent %, which is retired; bring % back first."}}},
    [RECORD_LOT] = {"lot",
                    SQL_LOT_SINCE,
                    SQL_LOT_RETIRE,
                    SQL_LOT_BRING_BACK,
                    {{SQL_LOT_OWN,
                      "Lot % is what its spawning began as; retire the spawning instead."},
                     {SQL_LOT_WENT_ON,
                      "Fish of lot % went into lot %; undo that, or retire that lot, first."}},
                    {{SQL_LOT_CODE_TAKEN, "There is another lot % now; rename that one first."},
                     {SQL_LOT_SPAWNING_RETIRED,
                      "Lot % is of spawning %, which is retired; bring % back first."}}},
    [RECORD_ROUND] = {"round",
                      SQL_ROUND_SINCE,
                      SQL_ROUND_RETIRE,
                      SQL_ROUND_BRING_BACK,
                      {{0}},
                      {{SQL_ROUND_STAGE_TAKEN,
                        "Lot % has another % cull now; change or retire that first."},
                       {SQL_ROUND_LOT_RETIRED, "Lot % is retired; bring it back first."}}},
    [RECORD_BOWL] =
        {"bowl",
         SQL_BOWL_SINCE,
         SQL_BOWL_RETIRE,
         SQL_BOWL_BRING_BACK,
         {{0}},
         {{SQL_BOWL_NUMBER_TAKEN, "There is another bowl % now; renumber that one first."},
          {SQL_BOWL_ROUND_RETIRED, "The round of bowl % (%) is retired; bring it back first."}}},
};

/* From above to below: what is retired in one is what the next looks for. */
static const enum sql retires_below[] = {SQL_LOTS_RETIRE_BELOW, SQL_ROUNDS_RETIRE_BELOW,
                                         SQL_BOWLS_RETIRE_BELOW};

static bool check(struct ledger *ledger, const struct objection *objections, int64_t id,
                  struct err *err)
{
    bool fine = true;
    for (int i = 0; fine && i < OBJECTIONS && objections[i].format != NULL; i++) {
        struct text sentence;
        text_init(&sentence);
        struct query query = query_with(ledger, objections[i].sql, id);
        if (query_step(&query))
            row_sentence(&query, objections[i].format, &sentence);
        fine = query_end(&query, err) &&
               (sentence.length == 0 || err_set(err, ERR_INPUT, "%s", sentence.data));
        text_done(&sentence);
    }
    return fine;
}

/* Since when a record is retired: 0 = it is live. */
static bool find_since(struct ledger *ledger, const struct record_rules *rule, int64_t id,
                       int64_t *ret_since, struct err *err)
{
    int64_t since = 0;
    struct query query = query_with(ledger, rule->since, id);
    bool found = query_step(&query);
    if (found)
        since = row_instant_or(&query, 0);
    if (!query_end(&query, err))
        return false;
    *ret_since = since;
    return found || err_set(err, ERR_ABSENT, "There is no such record in the ledger.");
}

static bool run(struct ledger *ledger, enum sql sql, int64_t number, struct err *err)
{
    struct query query = query_with(ledger, sql, number);
    return query_run(&query, err);
}

/* A join reads since when a record is retired from the log: it is the entry's instant. */
static bool log_change(struct ledger *ledger, const struct record_rules *rule, int64_t id,
                       int64_t judge, bool retired, int64_t at_ms, const char *why, struct err *err)
{
    struct change change = {rule->table, id, judge, why};
    return audit_log_add_at(ledger, &change, "retired", retired ? "" : "yes", retired ? "yes" : "",
                            at_ms, err);
}

bool retiring_instant(struct ledger *ledger, int64_t *ret_at_ms, struct err *err)
{
    int64_t latest = 0;
    struct query query = query_begin(ledger, SQL_RETIRED_LATEST);
    if (!query_single(&query, &latest, err))
        return false;
    *ret_at_ms = latest < ledger->begun_ms ? ledger->begun_ms : latest + 1;
    return true;
}

static bool retire(struct ledger *ledger, const struct record_rules *rule, int64_t id,
                   int64_t judge, const char *why, struct err *err)
{
    int64_t since, at_ms;
    if (!find_since(ledger, rule, id, &since, err))
        return false;
    if (since != 0)
        return err_set(err, ERR_ABSENT, "This is retired already.");
    if (!check(ledger, rule->to_retiring, id, err) || !retiring_instant(ledger, &at_ms, err))
        return false;
    struct query query = query_with(ledger, rule->retire, id);
    query_number(&query, at_ms);
    bool fine = query_run(&query, err);
    for (size_t i = 0; fine && i < sizeof retires_below / sizeof *retires_below; i++)
        fine = run(ledger, retires_below[i], at_ms, err);
    return fine && log_change(ledger, rule, id, judge, true, at_ms, why, err);
}

bool record_retire(struct ledger *ledger, enum record_kind kind, int64_t id, int64_t judge,
                   const char *why, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, retire(ledger, &rules[kind], id, judge, why, err), err);
}

/* A standard may have got another version while its fish were away. A round that another station
 * retired at the same instant is not back. */
static bool judge_anew(struct ledger *ledger, int64_t round_id, struct err *err)
{
    struct round round = {.id = 0};
    struct standard_version version;
    struct err why = {0};
    if (!round_get(ledger, round_id, &round, &why))
        return why.code == ERR_ABSENT || err_set(err, why.code, "%s", why.text);
    return round.standard[0] == '\0' ||
           (standard_named(ledger, round.standard, &version, err) &&
            verdicts_rebuild(ledger, round_id, &version.standard, NULL, err));
}

static bool run_back(struct ledger *ledger, enum sql sql, int64_t since, int64_t id,
                     struct err *err)
{
    struct query query = query_with(ledger, sql, since);
    query_number(&query, id);
    return query_run(&query, err);
}

/* A judge that comes back is nobody else any more. */
static bool find_right_name(struct ledger *ledger, const struct record_rules *rule, int64_t id,
                            char ret_name[CODE_SIZE], struct err *err)
{
    struct query query = query_with(ledger, SQL_JUDGE_RIGHT_NAME, id);
    ret_name[0] = '\0';
    if (rule == &rules[RECORD_JUDGE] && query_step(&query))
        row_text(&query, ret_name, CODE_SIZE);
    return query_end(&query, err);
}

static bool log_right_name(struct ledger *ledger, const struct record_rules *rule, int64_t id,
                           const char *name, int64_t judge, const char *why, struct err *err)
{
    struct change change = {rule->table, id, judge, why};
    return name[0] == '\0' || audit_log_add(ledger, &change, "same_as", name, "", err);
}

static bool bring_back(struct ledger *ledger, const struct record_rules *rule, int64_t id,
                       int64_t judge, const char *why, struct err *err)
{
    int64_t since, at_ms, *rounds;
    size_t count;
    char right[CODE_SIZE];
    if (!find_since(ledger, rule, id, &since, err))
        return false;
    if (since == 0)
        return err_set(err, ERR_ABSENT, "This is not retired.");
    if (!check(ledger, rule->to_bringing_back, id, err) || !retiring_instant(ledger, &at_ms, err) ||
        !find_right_name(ledger, rule, id, right, err))
        return false;
    struct query query = query_with(ledger, SQL_ROUNDS_RETIRED_AT, since);
    if (!query_ids(&query, &rounds, &count, err))
        return false;
    bool fine = true;
    for (int kind = 0; fine && kind < RECORD_KIND_COUNT; kind++)
        fine = run_back(ledger, rules[kind].bring_back, since, id, err);
    for (size_t i = 0; fine && i < count; i++)
        fine = judge_anew(ledger, rounds[i], err);
    free(rounds);
    return fine && log_right_name(ledger, rule, id, right, judge, why, err) &&
           log_change(ledger, rule, id, judge, false, at_ms, why, err);
}

bool record_bring_back(struct ledger *ledger, enum record_kind kind, int64_t id, int64_t judge,
                       const char *why, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, bring_back(ledger, &rules[kind], id, judge, why, err), err);
}

/* Telling of it. */

bool record_title(struct ledger *ledger, enum record_kind kind, int64_t id,
                  struct record_title *ret, struct err *err)
{
    struct record_title title = {.title = ""};
    struct query query = query_begin(ledger, SQL_RECORD_TITLE);
    query_text(&query, rules[kind].table);
    query_number(&query, id);
    bool found = query_step(&query);
    if (found) {
        row_text_cut(&query, title.title, sizeof title.title);
        title.retired = row_instant_or(&query, 0) != 0;
    }
    if (!query_end(&query, err))
        return false;
    *ret = title;
    return found || err_set(err, ERR_ABSENT, "There is no such record in the ledger.");
}

static enum record_kind kind_of(const char *table)
{
    int kind = 0;
    while (kind < RECORD_KIND_COUNT - 1 && strcmp(rules[kind].table, table) != 0)
        kind++;
    return (enum record_kind)kind;
}

static void read_retired(struct query *query, void *ret_item)
{
    struct retired_record *ret = ret_item;
    *ret = (struct retired_record){.kind = kind_of(row_text_in_place(query))};
    ret->id = row_id(query);
    row_text_cut(query, ret->title, sizeof ret->title);
    ret->at_ms = row_instant(query);
    row_text(query, ret->judge, sizeof ret->judge);
    row_text(query, ret->why, sizeof ret->why);
}

bool retired_list(struct ledger *ledger, struct retired_record **ret, size_t *ret_count,
                  struct err *err)
{
    struct query query = query_begin(ledger, SQL_RETIRED_LIST);
    return query_rows(&query, read_retired, sizeof **ret, ret, ret_count, err);
}

static void read_change(struct query *query, void *ret_item)
{
    struct record_change *ret = ret_item;
    *ret = (struct record_change){.at_ms = row_instant(query)};
    row_text(query, ret->judge, sizeof ret->judge);
    row_text(query, ret->field, sizeof ret->field);
    row_text_cut(query, ret->was, sizeof ret->was);
    row_text_cut(query, ret->becomes, sizeof ret->becomes);
    row_text(query, ret->why, sizeof ret->why);
}

bool record_history(struct ledger *ledger, enum record_kind kind, int64_t id,
                    struct record_change **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_begin(ledger, SQL_RECORD_HISTORY);
    query_text(&query, rules[kind].table);
    query_number(&query, id);
    return query_rows(&query, read_change, sizeof **ret, ret, ret_count, err);
}
