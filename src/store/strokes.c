/* Writing what a key at the sheet does: the stroke, the verdict that its fish has with it, and
 * where the cursor is now. A key is one small transaction, so it writes as few rows as it can: a
 * score that decides nothing leaves fish, bowl and round as they are. */
#include "cached_verdicts.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/store/fish.h"
#include "stroke_row.h"

#include <assert.h>
#include <stdlib.h>

static bool add_stroke(struct ledger *ledger, int64_t id, const struct stroke *stroke,
                       struct err *err)
{
    int64_t seq = 0;
    struct stroke_texts texts;
    struct query query;
    query_begin(&query, ledger, SQL_STROKE_SEQ);
    query_number(&query, stroke->fish);
    query_number(&query, stroke->look);
    if (!query_single(&query, &seq, err))
        return false;
    query_begin(&query, ledger, SQL_STROKE_ADD);
    query_number(&query, id);
    query_number(&query, stroke->fish);
    query_number_or_null(&query, stroke->judge, 0);
    query_number(&query, stroke->look);
    query_number(&query, seq + 1);
    query_number(&query, stroke->checking);
    query_number(&query, stroke->correction);
    query_number(&query, stroke->at_ms);
    query_number_or_null(&query, stroke->undoes, 0);
    bool bound = stroke_row_bind(&query, stroke, &texts, err);
    return bound ? query_run(&query, err) : query_end(&query, NULL) && false;
}

static bool record(struct ledger *ledger, const struct stroke *stroke,
                   const struct standing *standing, const struct place *place, int64_t *ret_id,
                   struct err *err)
{
    return new_id(ledger, ret_id, err) && add_stroke(ledger, *ret_id, stroke, err) &&
           (standing == NULL || verdict_save(ledger, stroke, standing, err)) &&
           place_write(ledger, place, err);
}

bool stroke_record(struct ledger *ledger, struct stroke *stroke, const struct standing *standing,
                   const struct place *place, struct err *err)
{
    int64_t id;
    assert(stroke->fish != 0 && stroke->look > 0);
    if (!write_begin(ledger, err) ||
        !write_end(ledger, record(ledger, stroke, standing, place, &id, err), err))
        return false;
    stroke->id = id;
    return true;
}

bool undoable_of(struct ledger *ledger, int64_t round_id, int64_t bowl_id, struct undoable **ret,
                 size_t *ret_count, struct err *err)
{
    struct undoable *undoable = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, bowl_id != 0 ? SQL_UNDOABLE_OF_BOWL : SQL_UNDOABLE_SECOND_LOOKS);
    query_number(&query, round_id);
    if (bowl_id != 0)
        query_number(&query, bowl_id);
    while (query_step(&query)) {
        undoable = alloc_room(undoable, count, &capacity, sizeof *undoable);
        undoable[count].stroke = row_number(&query);
        undoable[count].fish = row_number(&query);
        count++;
    }
    return query_list(&query, undoable, count, ret, ret_count, err);
}

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
