#include "cached_verdicts.h"
#include "places.h"
#include "replay.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/store/fish.h"

#include <assert.h>
#include <stdlib.h>

static bool next_seq(struct ledger *ledger, int64_t fish, int64_t *ret_seq, struct err *err)
{
    int64_t highest = 0;
    struct query query;
    query_begin(&query, ledger, SQL_STROKE_SEQ);
    query_number(&query, fish);
    if (!query_single(&query, &highest, err))
        return false;
    *ret_seq = highest + 1;
    return true;
}

static bool add_stroke(struct ledger *ledger, int64_t id, int64_t seq, const struct stroke *stroke,
                       struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_STROKE_ADD);
    query_number(&query, id);
    query_number(&query, stroke->fish);
    query_number_or_null(&query, stroke->judge, 0);
    query_number(&query, stroke->look);
    query_number(&query, seq);
    query_number(&query, stroke->checking);
    query_number(&query, stroke->correction);
    query_number(&query, stroke->at_ms);
    query_number_or_null(&query, stroke->undoes, 0);
    return query_run(&query, err);
}

static bool add_entry(struct ledger *ledger, int64_t stroke, int n, const struct entry *entry,
                      struct err *err)
{
    enum { NO_NUMBER = INT32_MIN };
    int64_t number = NO_NUMBER;
    struct query query;
    entry_stored_number(entry, &number);
    query_begin(&query, ledger, SQL_ENTRY_ADD);
    query_number(&query, stroke);
    query_number(&query, n);
    query_text(&query, entry_terms[entry->kind].word);
    query_text(&query, entry_stored_what(entry));
    query_number_or_null(&query, number, NO_NUMBER);
    query_text(&query, entry->text);
    return query_run(&query, err);
}

static bool add_entries(struct ledger *ledger, int64_t id, const struct stroke *stroke,
                        struct err *err)
{
    for (int n = 0; n < stroke->entry_count; n++)
        if (!add_entry(ledger, id, n, &stroke->entries[n], err))
            return false;
    return true;
}

static bool record(struct ledger *ledger, const struct stroke *stroke,
                   const struct standing *standing, const struct place *place, int64_t *ret_id,
                   struct err *err)
{
    int64_t seq;
    return new_id(ledger, ret_id, err) && next_seq(ledger, stroke->fish, &seq, err) &&
           add_stroke(ledger, *ret_id, seq, stroke, err) &&
           add_entries(ledger, *ret_id, stroke, err) &&
           (standing == NULL || standing_save(ledger, stroke->fish, standing, err)) &&
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
