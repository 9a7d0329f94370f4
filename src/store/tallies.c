/* Keys of rounds whose fish are not judged one by one: the tally, and first looks. A key is a row;
 * each judge takes back his own. */
#include "senbetsu/store/tallies.h"
#include "query.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>

/* The key of this judge in the round that is undone next; `sql` finds it by round and judge. */
static bool last_own_key(struct ledger *ledger, enum sql sql, int64_t round_id, int64_t judge,
                         int64_t *ret_id, struct err *err)
{
    int64_t last = 0;
    struct query query = query_with(ledger, sql, round_id);
    query_number_or_null(&query, judge, 0);
    if (!query_single(&query, &last, err))
        return false;
    if (last == 0)
        return err_set(err, ERR_ABSENT, "You have no key left to undo.");
    *ret_id = last;
    return true;
}

/* A key, or (`undoes` not 0) its taking back. */
static bool add(struct ledger *ledger, int64_t round_id, int64_t judge,
                const struct tally_mark *mark, int64_t undoes, struct err *err)
{
    int64_t id;
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_TALLY_ADD, id);
    query_number(&query, round_id);
    query_number_or_null(&query, judge, 0);
    query_text_or_null(&query, undoes == 0 ? tally_terms[mark->kind].word : "");
    query_text(&query, mark->reason);
    query_number_or_null(&query, mark->scoop.id, 0);
    query_number(&query, clock_now(&ledger->clock));
    query_number_or_null(&query, undoes, 0);
    return query_run(&query, err);
}

bool tally_record(struct ledger *ledger, int64_t round_id, int64_t judge,
                  const struct tally_mark *mark, const struct place *place, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(
               ledger,
               add(ledger, round_id, judge, mark, 0, err) && place_write(ledger, place, err), err);
}

/* Nothing but NULL reads as no scoop. */
static void read_scoop(struct query *query, void *ret_item)
{
    struct scoop *ret = ret_item;
    ret->id = row_id_or_none(query);
    ret->samples = row_int_or(query, 1, SCOOP_SAMPLES, 0);
    ret->fish = row_between_or(query, 1, (int64_t)SCOOP_SAMPLES * SCOOP_MOST, 0);
    ret->squares = row_between_or(query, 1, (int64_t)SCOOP_SAMPLES * SCOOP_MOST * SCOOP_MOST, 0);
    row_require(query, ret->id == 0 ? ret->samples == 0 : scoop_possible(ret));
}

static void read_mark(struct query *query, void *ret_item)
{
    struct tally_mark *ret = ret_item;
    ret->kind = (enum tally_kind)row_word(query, tally_terms, TALLY_KIND_COUNT);
    row_text(query, ret->reason, sizeof ret->reason);
    read_scoop(query, &ret->scoop);
}

static bool last_mark(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t *ret_id,
                      struct tally_mark *ret, struct err *err)
{
    int64_t id = 0;
    struct tally_mark mark = {.reason = ""};
    if (!last_own_key(ledger, SQL_TALLY_LAST, round_id, judge, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_TALLY_MARK, id);
    if (!query_row(&query, read_mark, &mark, NULL, err))
        return false;
    *ret_id = id;
    *ret = mark;
    return true;
}

bool tally_last(struct ledger *ledger, int64_t round_id, int64_t judge, struct tally_mark *ret,
                struct err *err)
{
    int64_t id;
    return last_mark(ledger, round_id, judge, &id, ret, err);
}

static bool undo(struct ledger *ledger, int64_t round_id, int64_t judge, const struct place *place,
                 struct tally_mark *ret, struct err *err)
{
    static const struct tally_mark nothing = {.reason = ""};
    int64_t last;
    return last_mark(ledger, round_id, judge, &last, ret, err) &&
           add(ledger, round_id, judge, &nothing, last, err) && place_write(ledger, place, err);
}

bool tally_undo(struct ledger *ledger, int64_t round_id, int64_t judge, const struct place *place,
                struct tally_mark *ret, struct err *err)
{
    struct tally_mark mark;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, undo(ledger, round_id, judge, place, &mark, err), err))
        return false;
    *ret = mark;
    return true;
}

/* A scoop is never changed: measuring again adds another, and earlier keys keep the size they were
 * pressed with. */
static bool add_scoop(struct ledger *ledger, int64_t round_id, int64_t judge,
                      const struct scoop *scoop, int64_t *ret_id, struct err *err)
{
    if (!new_id(ledger, ret_id, err))
        return false;
    struct query query = query_with(ledger, SQL_SCOOP_ADD, *ret_id);
    query_number(&query, round_id);
    query_number_or_null(&query, judge, 0);
    query_number(&query, scoop->samples);
    query_number(&query, scoop->fish);
    query_number(&query, scoop->squares);
    query_number(&query, clock_now(&ledger->clock));
    return query_run(&query, err);
}

bool scoop_save(struct ledger *ledger, int64_t round_id, int64_t judge, struct scoop *scoop,
                const struct place *place, struct err *err)
{
    int64_t id;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger,
                         add_scoop(ledger, round_id, judge, scoop, &id, err) &&
                             place_write(ledger, place, err),
                         err))
        return false;
    scoop->id = id;
    return true;
}

bool scoop_latest(struct ledger *ledger, int64_t round_id, int64_t judge, struct scoop *ret,
                  struct err *err)
{
    struct scoop scoop = {.id = 0};
    struct query query = query_with(ledger, SQL_SCOOP_LATEST, round_id);
    query_number_or_null(&query, judge, 0);
    if (!query_row(&query, read_scoop, &scoop, NULL, err))
        return false;
    *ret = scoop;
    return true;
}

static void read_line(struct query *query, void *ret_item)
{
    struct tally_line *ret = ret_item;
    read_mark(query, &ret->mark);
    ret->times = row_between(query, 1, INT64_MAX);
}

static bool list_lines(struct ledger *ledger, int64_t round_id, int64_t from_ms, int64_t to_ms,
                       struct tally_line **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_with(ledger, SQL_TALLY_LINES, round_id);
    query_number(&query, from_ms);
    query_number(&query, to_ms);
    return query_rows(&query, read_line, sizeof **ret, ret, ret_count, err);
}

bool tally_lines(struct ledger *ledger, int64_t round_id, struct tally_line **ret,
                 size_t *ret_count, struct err *err)
{
    return list_lines(ledger, round_id, INT64_MIN, INT64_MAX, ret, ret_count, err);
}

/* A day is local: from midnight to midnight by the clock the ledger was opened with. */
bool tally_lines_of_day(struct ledger *ledger, int64_t round_id, const char *day,
                        struct tally_line **ret, size_t *ret_count, struct err *err)
{
    int64_t begin = date_begins(day, ledger->clock.offset_minutes);
    return list_lines(ledger, round_id, begin, begin + DAY_MS, ret, ret_count, err);
}

bool picks_get(struct ledger *ledger, int64_t round_id, struct picks *ret, struct err *err)
{
    struct tally_line *lines;
    size_t count;
    if (!tally_lines(ledger, round_id, &lines, &count, err))
        return false;
    *ret = picks_of(lines, count);
    free(lines);
    return true;
}

static bool undo_pick(struct ledger *ledger, int64_t round_id, int64_t judge, const char *reason,
                      const struct place *place, struct err *err)
{
    static const struct tally_mark nothing = {.reason = ""};
    int64_t last = 0;
    struct query query = query_with(ledger, SQL_PICK_LAST, round_id);
    query_text(&query, reason);
    if (!query_single(&query, &last, err))
        return false;
    if (last == 0)
        return err_set(err, ERR_ABSENT, "There is no pick left to take back.");
    return add(ledger, round_id, judge, &nothing, last, err) && place_write(ledger, place, err);
}

bool pick_undo(struct ledger *ledger, int64_t round_id, int64_t judge, const char *reason,
               const struct place *place, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, undo_pick(ledger, round_id, judge, reason, place, err), err);
}

/* A mark counts for the fish of its scoop, else for one. */
bool tally_pace_of(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t since_ms,
                   struct tally_pace *ret, struct err *err)
{
    struct tally_pace pace = {.last_ms = 0};
    struct query query = query_with(ledger, SQL_TALLY_PACE, round_id);
    query_number_or_null(&query, judge, 0);
    query_number(&query, since_ms);
    while (query_step(&query)) {
        int64_t at_ms = row_instant(&query);
        struct tally_mark mark = {.reason = ""};
        read_scoop(&query, &mark.scoop);
        tally_pace_add(&pace, at_ms, tally_mark_fish(&mark));
    }
    if (!query_end(&query, err))
        return false;
    *ret = pace;
    return true;
}

/* What a key says of a fish, or that it takes another key back. */
enum { NOT_GOOD, GOOD, TAKEN_BACK };

static bool add_first_look(struct ledger *ledger, int64_t round_id, int64_t judge, int says,
                           int64_t undoes, struct err *err)
{
    int64_t id;
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_FIRST_LOOK_ADD, id);
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
    return transaction_begin(ledger, err) &&
           transaction_end(
               ledger,
               add_first_look(ledger, round_id, judge, good ? GOOD : NOT_GOOD, 0, err) &&
                   place_write(ledger, place, err),
               err);
}

static bool undo_first_look(struct ledger *ledger, int64_t round_id, int64_t judge,
                            const struct place *place, struct err *err)
{
    int64_t last = 0;
    return last_own_key(ledger, SQL_FIRST_LOOK_LAST, round_id, judge, &last, err) &&
           add_first_look(ledger, round_id, judge, TAKEN_BACK, last, err) &&
           place_write(ledger, place, err);
}

bool first_look_undo(struct ledger *ledger, int64_t round_id, int64_t judge,
                     const struct place *place, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, undo_first_look(ledger, round_id, judge, place, err), err);
}

bool first_look_get(struct ledger *ledger, int64_t round_id, struct first_look *ret,
                    struct err *err)
{
    int offset = ledger->clock.offset_minutes;
    struct first_look look = {.looked_at = 0};
    struct query query = query_with(ledger, SQL_FIRST_LOOK_FISH, round_id);
    while (query_step(&query)) {
        first_look_add(&look, row_flag(&query));
        date_of_instant(row_instant(&query), offset, look.last_day);
        if (look.looked_at == 1)
            text_copy(look.first_day, sizeof look.first_day, look.last_day);
    }
    if (!query_end(&query, err))
        return false;
    *ret = look;
    return true;
}
