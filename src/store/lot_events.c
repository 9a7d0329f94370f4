/* Writing and reading what happens to lots outside their culls. What one person says at once (lots
 * that are merged, a split with its new pond) is a batch of events with one instant, and is undone
 * as a whole. An event does not carry the fish left in a lot: those are counted by replaying all
 * events and culls in order, since a later joined ledger may bring an earlier event. */
#include "senbetsu/store/lot_events.h"

#include "lots.h"
#include "query.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/spawnings.h"

#include <stdlib.h>
#include <string.h>

static bool check_fish(const struct lot_event *said, struct err *err)
{
    bool moved = said->kind == EVENT_MOVE;
    bool none = moved || (said->kind == EVENT_TRANSFER && said->all);
    if (none && said->fish.number != NOT_COUNTED)
        return err_set(err, ERR_INPUT, "%s leave the number of fish empty.",
                       moved ? "The whole lot is moved:" : "All fish are transferred:");
    if (!none && said->fish.number == NOT_COUNTED)
        return err_set(err, ERR_INPUT, "Enter the number of fish.");
    if (said->fish.number > FISH_MOST)
        return err_set(err, ERR_INPUT, "A lot has at most %d fish.", (int)FISH_MOST);
    return count_check(&said->fish, err);
}

static bool check(const struct lot_event *said, struct err *err)
{
    if (!date_valid(said->day))
        return err_set(err, ERR_INPUT, "\"%s\" is not a date such as 2026-06-14.", said->day);
    if (said->kind == EVENT_MOVE && !code_check(said->pond, "The pond's name", err))
        return false;
    return check_fish(said, err);
}

/* Fish go only where all their spawnings are named. */
static bool check_target(struct ledger *ledger, const struct lot_event *said, struct err *err)
{
    char stranger[CODE_SIZE] = "";
    if (said->target_id == said->lot_id)
        return err_set(err, ERR_INPUT, "The fish are already in that lot.");
    struct query query = query_with(ledger, SQL_LOT_STRANGERS, said->lot_id);
    query_number(&query, said->target_id);
    if (query_step(&query))
        row_text(&query, stranger, sizeof stranger);
    if (!query_end(&query, err))
        return false;
    return stranger[0] == '\0' || err_set(err, ERR_INPUT,
                                          "Fish of spawning %s cannot go into another spawning's "
                                          "lot; merge both lots into a mixed one.",
                                          stranger);
}

static bool next_revision(struct ledger *ledger, int64_t lot, int64_t target, int64_t *ret,
                          struct err *err)
{
    int64_t highest = 0;
    struct query query = query_with(ledger, SQL_LOT_EVENT_REVISION, lot);
    query_number_or_null(&query, target, 0);
    if (!query_single(&query, &highest, err))
        return false;
    *ret = highest + 1;
    return true;
}

/* What somebody says at once, in one event or several. */
struct batch {
    int64_t judge;
    int64_t at_ms; /* of no other batch of this station: it tells which events belong together */
};

/* A whole file is read in one transaction, and each of its rows is a batch. */
static bool begin_batch(struct ledger *ledger, int64_t judge, struct batch *ret, struct err *err)
{
    int64_t latest = 0;
    struct query query = query_begin(ledger, SQL_LOT_EVENT_LATEST);
    if (!query_single(&query, &latest, err))
        return false;
    *ret = (struct batch){judge, latest < ledger->begun_ms ? ledger->begun_ms : latest + 1};
    return true;
}

/* An event, or (`undoes` not 0) its taking back. `corrects`: the one that it takes the place of. */
static bool add(struct ledger *ledger, const struct lot_event *event, const struct batch *batch,
                int64_t undoes, int64_t corrects, struct err *err)
{
    int64_t id, revision;
    bool is = undoes == 0;
    if (!new_id(ledger, &id, err) ||
        !next_revision(ledger, event->lot_id, event->target_id, &revision, err))
        return false;
    struct query query = query_with(ledger, SQL_LOT_EVENT_ADD, id);
    query_number(&query, event->lot_id);
    query_number(&query, revision);
    query_text(&query, event->day);
    query_text_or_null(&query, is ? lot_event_terms[event->kind].word : "");
    query_number_or_null(&query, is && !event->all ? event->fish.number : NOT_COUNTED, NOT_COUNTED);
    query_text_or_null(&query, is && !event->all ? method_terms[event->fish.method].word : "");
    query_number_or_null(&query, is && !event->all ? event->fish.cv : 0, 0);
    query_number_or_null(&query, is && event->kind == EVENT_TRANSFER ? event->target_id : 0, 0);
    query_text(&query, is && event->kind == EVENT_MOVE ? event->pond : "");
    query_text(&query, is ? event->note : "");
    query_number_or_null(&query, batch->judge, 0);
    query_number(&query, batch->at_ms);
    query_number_or_null(&query, undoes, 0);
    query_number_or_null(&query, corrects, 0);
    return query_run(&query, err);
}

static bool record(struct ledger *ledger, const struct lot_event *said, const struct batch *batch,
                   struct err *err)
{
    return check(said, err) && (said->kind != EVENT_TRANSFER || check_target(ledger, said, err)) &&
           add(ledger, said, batch, 0, 0, err);
}

static bool record_alone(struct ledger *ledger, const struct lot_event *said, int64_t judge,
                         struct err *err)
{
    struct batch batch;
    return begin_batch(ledger, judge, &batch, err) && record(ledger, said, &batch, err);
}

bool lot_event_record(struct ledger *ledger, const struct lot_event *said, int64_t judge,
                      struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, record_alone(ledger, said, judge, err), err);
}

/* The fish swim somewhere else from the same day on. */
static bool record_pond(struct ledger *ledger, const struct lot_event *transfer,
                        const struct batch *batch, struct err *err)
{
    struct lot_event move;
    if (transfer->pond[0] == '\0')
        return true;
    lot_event_init(&move);
    move.lot_id = transfer->target_id;
    move.kind = EVENT_MOVE;
    text_copy(move.day, sizeof move.day, transfer->day);
    text_copy(move.pond, sizeof move.pond, transfer->pond);
    return record(ledger, &move, batch, err);
}

static bool split(struct ledger *ledger, const struct lot_event *said, const char *code,
                  int64_t judge, int64_t *ret_lot, struct err *err)
{
    char spawnings[CODES_SIZE] = "";
    struct lot_event transfer = *said;
    struct batch batch;
    transfer.kind = EVENT_TRANSFER;
    if (!begin_batch(ledger, judge, &batch, err) ||
        !lot_add_sources(ledger, said->lot_id, spawnings, err) ||
        !lot_find_or_add(ledger, spawnings, code, &transfer.target_id, err))
        return false;
    *ret_lot = transfer.target_id;
    return record(ledger, &transfer, &batch, err) && record_pond(ledger, &transfer, &batch, err);
}

bool lot_split(struct ledger *ledger, const struct lot_event *said, const char *code, int64_t judge,
               int64_t *ret_lot, struct err *err)
{
    int64_t lot = 0;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, split(ledger, said, code, judge, &lot, err), err))
        return false;
    *ret_lot = lot;
    return true;
}

static bool merge(struct ledger *ledger, const int64_t *lots, size_t count, const char *code,
                  const struct lot_event *said, int64_t judge, int64_t *ret_lot, struct err *err)
{
    char spawnings[CODES_SIZE] = "";
    struct lot_event transfer = *said;
    struct batch batch;
    transfer.kind = EVENT_TRANSFER;
    transfer.all = true;
    transfer.fish = (struct count){.number = NOT_COUNTED};
    for (size_t i = 0; i < count; i++)
        if (!lot_add_sources(ledger, lots[i], spawnings, err))
            return false;
    if (!lot_find_or_add(ledger, spawnings, code, &transfer.target_id, err) ||
        !begin_batch(ledger, judge, &batch, err))
        return false;
    *ret_lot = transfer.target_id;
    for (size_t i = 0; i < count; i++) {
        transfer.lot_id = lots[i];
        if (lots[i] != transfer.target_id && !record(ledger, &transfer, &batch, err))
            return false;
    }
    return true;
}

bool lot_merge(struct ledger *ledger, const int64_t *lots, size_t count, const char *code,
               const struct lot_event *said, int64_t judge, int64_t *ret_lot, struct err *err)
{
    int64_t lot = 0;
    if (count < 2)
        return err_set(err, ERR_INPUT, "Choose two or more lots to merge.");
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, merge(ledger, lots, count, code, said, judge, &lot, err), err))
        return false;
    *ret_lot = lot;
    return true;
}

static bool last_of(struct ledger *ledger, int64_t lot_id, int64_t *ret_id, struct err *err)
{
    int64_t id = 0;
    struct query query = query_with(ledger, SQL_LOT_EVENT_LAST, lot_id);
    if (!query_single(&query, &id, err))
        return false;
    *ret_id = id;
    return id != 0 || err_set(err, ERR_ABSENT, "There is nothing left to undo for this lot.");
}

/* All events of one batch carry its instant, which no other batch of the station has. */
static bool list_together(struct ledger *ledger, int64_t id, int64_t **ret, size_t *ret_count,
                          struct err *err)
{
    struct query query = query_with(ledger, SQL_LOT_EVENTS_TOGETHER, id);
    return query_ids(&query, ret, ret_count, err);
}

/* The events of a lot's last batch, in the order in which they were said. */
static bool list_last(struct ledger *ledger, int64_t lot_id, int64_t **ret, size_t *ret_count,
                      struct err *err)
{
    int64_t last;
    return last_of(ledger, lot_id, &last, err) && list_together(ledger, last, ret, ret_count, err);
}

static void read_event(struct query *query, void *ret_item)
{
    struct lot_event *ret = ret_item;
    lot_event_init(ret);
    ret->id = row_id(query);
    ret->lot_id = row_id(query);
    row_code(query, ret->lot, sizeof ret->lot);
    ret->target_id = row_id_or_none(query);
    row_text(query, ret->target, sizeof ret->target);
    row_day(query, ret->day);
    row_require(query, ret->day[0] != '\0');
    ret->kind = (enum lot_event_kind)row_word(query, lot_event_terms, EVENT_KIND_COUNT);
    row_require(query, (ret->kind == EVENT_TRANSFER) == (ret->target_id != 0) &&
                           ret->target_id != ret->lot_id);
    row_count(query, &ret->fish);
    ret->all = ret->kind == EVENT_TRANSFER && ret->fish.number == NOT_COUNTED;
    row_text(query, ret->pond, sizeof ret->pond);
    row_text(query, ret->note, sizeof ret->note);
    row_require(query, (ret->kind == EVENT_MOVE) == (ret->pond[0] != '\0'));
    ret->undone = row_flag(query);
    ret->revision = row_between(query, 1, INT64_MAX - 1);
}

bool lot_events_read(struct ledger *ledger, struct lot_event **ret, size_t *ret_count,
                     struct err *err)
{
    struct query query = query_begin(ledger, SQL_LOT_EVENTS);
    return query_rows(&query, read_event, sizeof **ret, ret, ret_count, err);
}

/* The event of this id; it is among them. */
static const struct lot_event *find(const struct lot_event *events, size_t count, int64_t id)
{
    size_t at = 0;
    while (at + 1 < count && events[at].id != id)
        at++;
    return &events[at];
}

bool lot_last_event(struct ledger *ledger, int64_t lot_id, struct lot_event *ret, struct err *err)
{
    struct lot_event *events;
    int64_t *ids;
    size_t count, event_count;
    if (!list_last(ledger, lot_id, &ids, &count, err))
        return false;
    bool fine = lot_events_read(ledger, &events, &event_count, err);
    if (fine) {
        const struct lot_event *event = find(events, event_count, ids[0]);
        for (size_t i = 1; i < count && event->lot_id != lot_id && event->target_id != lot_id; i++)
            event = find(events, event_count, ids[i]);
        *ret = *event;
        free(events);
    }
    free(ids);
    return fine;
}

/* A lot into which fish were put and to which nothing has happened any more never was. */
static bool retire_empty(struct ledger *ledger, int64_t lot_id, int64_t judge, struct err *err)
{
    int64_t empty = 0;
    struct query query = query_with(ledger, SQL_LOT_HAS_NOTHING, lot_id);
    return query_single(&query, &empty, err) &&
           (empty == 0 || record_retire(ledger, RECORD_LOT, empty, judge,
                                        "what its fish came by was undone", err));
}

static bool take_back(struct ledger *ledger, const int64_t *ids, size_t count,
                      const struct batch *batch, struct err *err)
{
    struct lot_event *events;
    size_t event_count;
    bool fine = true;
    if (!lot_events_read(ledger, &events, &event_count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = add(ledger, find(events, event_count, ids[i]), batch, ids[i], 0, err);
    for (size_t i = 0; fine && i < count; i++)
        fine =
            retire_empty(ledger, find(events, event_count, ids[i])->target_id, batch->judge, err);
    free(events);
    return fine;
}

static bool take_back_batch(struct ledger *ledger, int64_t event_id, int64_t judge, struct err *err)
{
    int64_t *ids;
    size_t count;
    struct batch batch;
    if (!begin_batch(ledger, judge, &batch, err) ||
        !list_together(ledger, event_id, &ids, &count, err))
        return false;
    bool fine = count > 0 ? take_back(ledger, ids, count, &batch, err)
                          : err_set(err, ERR_ABSENT, "This event has been undone already.");
    free(ids);
    return fine;
}

bool lot_event_take_back(struct ledger *ledger, int64_t event_id, int64_t judge, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, take_back_batch(ledger, event_id, judge, err), err);
}

/* What was said of several lots at once is not put right in one of them. */
static bool correct(struct ledger *ledger, int64_t event_id, const struct lot_event *said,
                    int64_t judge, struct err *err)
{
    int64_t *ids;
    size_t count;
    struct batch batch;
    if (!begin_batch(ledger, judge, &batch, err) ||
        !list_together(ledger, event_id, &ids, &count, err))
        return false;
    free(ids);
    if (count != 1)
        return err_set(err, ERR_INPUT,
                       count == 0 ? "This event has been undone already."
                                  : "It was recorded together with others: undo it and record it "
                                    "again.");
    return check(said, err) && (said->kind != EVENT_TRANSFER || check_target(ledger, said, err)) &&
           add(ledger, said, &batch, 0, event_id, err) &&
           take_back(ledger, &event_id, 1, &batch, err);
}

bool lot_event_correct(struct ledger *ledger, int64_t event_id, const struct lot_event *said,
                       int64_t judge, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, correct(ledger, event_id, said, judge, err), err);
}

/* Whoever asked for it saw this event as the last one. */
static bool undo(struct ledger *ledger, int64_t lot_id, int64_t event_id, int64_t judge,
                 struct lot_event *ret, struct err *err)
{
    if (!lot_last_event(ledger, lot_id, ret, err))
        return false;
    if (ret->id != event_id)
        return err_set(err, ERR_INPUT, "The last event of this lot has changed; look at it again.");
    return take_back_batch(ledger, event_id, judge, err);
}

bool lot_undo(struct ledger *ledger, int64_t lot_id, int64_t event_id, int64_t judge,
              struct lot_event *ret, struct err *err)
{
    struct lot_event event;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, undo(ledger, lot_id, event_id, judge, &event, err), err))
        return false;
    *ret = event;
    ret->undone = true;
    return true;
}

bool lot_begin(struct ledger *ledger, const char *spawnings, const char *code, int64_t *ret_id,
               struct err *err)
{
    int64_t id = 0;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(ledger, lot_find_or_add(ledger, spawnings, code, &id, err), err))
        return false;
    *ret_id = id;
    return true;
}

static void read_pond(struct query *query, void *ret_item)
{
    row_code(query, ret_item, CODE_SIZE);
}

bool lot_pond(struct ledger *ledger, int64_t lot_id, char ret[CODE_SIZE], struct err *err)
{
    struct query query = query_with(ledger, SQL_LOT_POND, lot_id);
    ret[0] = '\0';
    return query_row(&query, read_pond, ret, NULL, err);
}
