#include "senbetsu/store/first_looks.h"
#include "own_keys.h"
#include "places.h"
#include "query.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"

/* What a key says of a fish, or that it takes another key back. */
enum { NOT_GOOD, GOOD, TAKEN_BACK };

static bool add(struct ledger *ledger, int64_t round_id, int64_t judge, int says, int64_t undoes,
                struct err *err)
{
    int64_t id;
    struct query query;
    if (!new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_FIRST_LOOK_ADD);
    query_number(&query, id);
    query_number(&query, round_id);
    query_number_or_null(&query, judge, 0);
    query_number_or_null(&query, says, TAKEN_BACK);
    query_number(&query, clock_now(&ledger->clock));
    query_number_or_null(&query, undoes, 0);
    return query_run(&query, err);
}

bool first_look_record(struct ledger *ledger, int64_t round_id, int64_t judge, bool good,
                       const struct place *place, struct err *err)
{
    return write_begin(ledger, err) &&
           write_end(ledger,
                     add(ledger, round_id, judge, good ? GOOD : NOT_GOOD, 0, err) &&
                         place_write(ledger, place, err),
                     err);
}

static bool undo(struct ledger *ledger, int64_t round_id, int64_t judge, const struct place *place,
                 struct err *err)
{
    int64_t last;
    return last_own_key(ledger, SQL_FIRST_LOOK_LAST, round_id, judge, &last, err) &&
           add(ledger, round_id, judge, TAKEN_BACK, last, err) && place_write(ledger, place, err);
}

bool first_look_undo(struct ledger *ledger, int64_t round_id, int64_t judge,
                     const struct place *place, struct err *err)
{
    return write_begin(ledger, err) &&
           write_end(ledger, undo(ledger, round_id, judge, place, err), err);
}

bool first_look_get(struct ledger *ledger, int64_t round_id, struct first_look *ret,
                    struct err *err)
{
    int offset = ledger->clock.offset_minutes;
    struct first_look look = {.looked_at = 0};
    struct query query;
    query_begin(&query, ledger, SQL_FIRST_LOOK_FISH);
    query_number(&query, round_id);
    while (query_step(&query)) {
        first_look_add(&look, row_number(&query) == GOOD);
        date_of_instant(row_number(&query), offset, look.last_day);
        if (look.looked_at == 1)
            text_copy(look.first_day, sizeof look.first_day, look.last_day);
    }
    if (!query_end(&query, err))
        return false;
    *ret = look;
    return true;
}
