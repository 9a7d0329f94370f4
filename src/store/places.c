#include "places.h"

#include "query.h"

bool place_write(struct ledger *ledger, const struct place *place, struct err *err)
{
    struct query query;
    if (place == NULL)
        return true;
    query_begin(&query, ledger, SQL_PLACE_SAVE);
    query_number(&query, place->judge);
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
    return write_begin(ledger, err) && write_end(ledger, place_write(ledger, place, err), err);
}

static void read_place(struct query *query, struct place *ret)
{
    *ret = (struct place){.judge = row_number(query)};
    ret->round_id = row_number(query);
    ret->bowl_id = row_number(query);
    ret->number = (int)row_number(query);
    row_text(query, ret->aspect, sizeof ret->aspect);
    ret->second_look = row_number(query);
    ret->in_sheet = row_number(query);
}

bool place_get(struct ledger *ledger, int64_t judge, struct place *ret, struct err *err)
{
    struct place place;
    struct query query;
    query_begin(&query, ledger, judge < 0 ? SQL_PLACE_LATEST : SQL_PLACE_OF_JUDGE);
    if (judge >= 0)
        query_number(&query, judge);
    bool found = query_step(&query);
    if (found)
        read_place(&query, &place);
    if (!query_end(&query, err))
        return false;
    if (!found)
        return err_set(err, ERR_ABSENT, "Nobody has judged with this ledger yet.");
    *ret = place;
    return true;
}
