/* Judges, and where each of them left off. The place is written in the transaction of the key that
 * moves the cursor, so that after a power cut the sheet opens where the last key was pressed. */
#include "senbetsu/store/judges.h"

#include "audit_log.h"

static bool find(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err)
{
    struct query query = query_begin(ledger, SQL_JUDGE_NAMED);
    query_text(&query, name);
    return query_single(&query, ret_id, err);
}

/* Again inside the transaction: another program may have added the judge since. */
static bool find_or_add(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err)
{
    if (!find(ledger, name, ret_id, err))
        return false;
    if (*ret_id != 0)
        return true;
    if (!office_id(ledger, "judge", name, ret_id, err))
        return false;
    struct change about = {"judge", *ret_id, 0, ""};
    struct query query = query_with(ledger, SQL_JUDGE_ADD, *ret_id);
    query_text(&query, name);
    return query_run(&query, err) && audit_log_begin(ledger, &about, "name", name, err);
}

bool judge_named(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err)
{
    int64_t id = 0;
    if (*name != '\0') {
        if (!code_check(name, "The judge's name", err) || !find(ledger, name, &id, err))
            return false;
        if (id == 0 && !(transaction_begin(ledger, err) &&
                         transaction_end(ledger, find_or_add(ledger, name, &id, err), err)))
            return false;
    }
    *ret_id = id;
    return true;
}

static void read_judge(struct query *query, void *ret_item)
{
    struct judge *ret = ret_item;
    ret->id = row_id(query);
    row_code(query, ret->name, sizeof ret->name);
}

bool judge_list(struct ledger *ledger, struct judge **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_begin(ledger, SQL_JUDGE_LIST);
    return query_rows(&query, read_judge, sizeof **ret, ret, ret_count, err);
}

bool judges_of_round(struct ledger *ledger, int64_t round_id, struct judge **ret, size_t *ret_count,
                     struct err *err)
{
    struct query query = query_with(ledger, SQL_JUDGES_OF_ROUND, round_id);
    return query_rows(&query, read_judge, sizeof **ret, ret, ret_count, err);
}

bool place_write(struct ledger *ledger, const struct place *place, struct err *err)
{
    if (place == NULL)
        return true;
    struct query query = query_with(ledger, SQL_PLACE_SAVE, place->judge);
    query_number(&query, place->round_id);
    query_number_or_null(&query, place->bowl_id, 0);
    query_number(&query, place->number);
    query_text(&query, place->aspect);
    query_number(&query, place->second_look);
    query_number(&query, place->in_sheet);
    return query_run(&query, err);
}

bool place_save(struct ledger *ledger, const struct place *place, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, place_write(ledger, place, err), err);
}

static void read_place(struct query *query, void *ret_item)
{
    struct place *ret = ret_item;
    *ret = (struct place){.judge = row_between(query, 0, INT64_MAX)};
    ret->round_id = row_id(query);
    ret->bowl_id = row_id_or_none(query);
    ret->number = row_int(query, 0, NUMBER_MOST + 1);
    row_text(query, ret->aspect, sizeof ret->aspect);
    ret->second_look = row_flag(query);
    ret->in_sheet = row_flag(query);
}

bool place_get(struct ledger *ledger, int64_t judge, struct place *ret, struct err *err)
{
    struct query query = query_begin(ledger, judge < 0 ? SQL_PLACE_LATEST : SQL_PLACE_OF_JUDGE);
    if (judge >= 0)
        query_number(&query, judge);
    return query_row(&query, read_place, ret, "Nobody has judged with this ledger yet.", err);
}
