#include "senbetsu/store/lot_events.h"

#include "lot_replay.h"
#include "lots.h"
#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/spawnings.h"

#include <stdlib.h>
#include <string.h>

static bool check_fish(const struct lot_event *said, struct err *err)
{
    bool moved = said->kind == EVENT_MOVE;
    bool none = moved || (said->kind == EVENT_TRANSFER && said->all);
    if (none && said->fish.number != NOT_COUNTED)
        return err_set(err, ERR_INPUT, "%s number of fish is said here.",
                       moved ? "The whole lot is moved: no" : "All fish are meant: no");
    if (!none && said->fish.number == NOT_COUNTED)
        return err_set(err, ERR_INPUT, "Say how many fish.");
    if (said->fish.number > FISH_MOST)
        return err_set(err, ERR_INPUT, "At most %d fish fit in a lot.", (int)FISH_MOST);
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
    struct query query;
    if (said->target_id == said->lot_id)
        return err_set(err, ERR_INPUT, "The fish are in that lot already.");
    query_begin(&query, ledger, SQL_LOT_STRANGERS);
    query_number(&query, said->lot_id);
    query_number(&query, said->target_id);
    if (query_step(&query))
        row_text(&query, stranger, sizeof stranger);
    if (!query_end(&query, err))
        return false;
    return stranger[0] == '\0' ||
           err_set(
               err, ERR_INPUT,
               "Fish of spawning %s cannot go into a lot of others only; put both lots together "
               "into a mixed one.",
               stranger);
}

static bool next_revision(struct ledger *ledger, int64_t lot, int64_t target, int64_t *ret,
                          struct err *err)
{
    int64_t highest = 0;
    struct query query;
    query_begin(&query, ledger, SQL_LOT_EVENT_REVISION);
    query_number(&query, lot);
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
    struct query query;
    query_begin(&query, ledger, SQL_LOT_EVENT_LATEST);
    if (!query_single(&query, &latest, err))
        return false;
    *ret = (struct batch){judge, latest < ledger->begun_ms ? ledger->begun_ms : latest + 1};
    return true;
}

/* An event, or (`undoes` not 0) its taking back. */
static bool add(struct ledger *ledger, const struct lot_event *event, const struct batch *batch,
                int64_t undoes, struct err *err)
{
    int64_t id, revision;
    bool is = undoes == 0;
    struct query query;
    if (!new_id(ledger, &id, err) ||
        !next_revision(ledger, event->lot_id, event->target_id, &revision, err))
        return false;
    query_begin(&query, ledger, SQL_LOT_EVENT_ADD);
    query_number(&query, id);
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
    return query_run(&query, err);
}

static bool record(struct ledger *ledger, const struct lot_event *said, const struct batch *batch,
                   struct err *err)
{
    return check(said, err) && (said->kind != EVENT_TRANSFER || check_target(ledger, said, err)) &&
           add(ledger, said, batch, 0, err);
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
    return write_begin(ledger, err) &&
           write_end(ledger, record_alone(ledger, said, judge, err), err);
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
    if (!write_begin(ledger, err) ||
        !write_end(ledger, split(ledger, said, code, judge, &lot, err), err))
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
        return err_set(err, ERR_INPUT, "Choose two lots or more to put together.");
    if (!write_begin(ledger, err) ||
        !write_end(ledger, merge(ledger, lots, count, code, said, judge, &lot, err), err))
        return false;
    *ret_lot = lot;
    return true;
}

static bool last_of(struct ledger *ledger, int64_t lot_id, int64_t *ret_id, struct err *err)
{
    int64_t id = 0;
    struct query query;
    query_begin(&query, ledger, SQL_LOT_EVENT_LAST);
    query_number(&query, lot_id);
    if (!query_single(&query, &id, err))
        return false;
    *ret_id = id;
    return id != 0 || err_set(err, ERR_ABSENT, "Nothing is left to take back of this lot.");
}

static bool list_together(struct ledger *ledger, int64_t id, int64_t **ret, size_t *ret_count,
                          struct err *err)
{
    int64_t *ids = NULL;
    size_t count = 0, capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_LOT_EVENTS_TOGETHER);
    query_number(&query, id);
    while (query_step(&query)) {
        ids = alloc_room(ids, count, &capacity, sizeof *ids);
        ids[count++] = row_number(&query);
    }
    return query_list(&query, ids, count, ret, ret_count, err);
}

/* The events of a lot's last batch, in the order in which they were said. */
static bool list_last(struct ledger *ledger, int64_t lot_id, int64_t **ret, size_t *ret_count,
                      struct err *err)
{
    int64_t last;
    return last_of(ledger, lot_id, &last, err) && list_together(ledger, last, ret, ret_count, err);
}

/* The event of this id as it happened. */
static const struct lot_event *find(const struct lot_walk *walk, int64_t id)
{
    size_t at = 0;
    while (at + 1 < walk->event_count && walk->events[at].id != id)
        at++;
    return &walk->events[at];
}

/* What a batch is to one of its lots: the first of its events there. */
static const struct lot_event *first_of(const struct lot_walk *walk, const int64_t *ids,
                                        size_t count, int64_t lot_id)
{
    const struct lot_event *event = find(walk, ids[0]);
    for (size_t i = 1; i < count && event->lot_id != lot_id && event->target_id != lot_id; i++)
        event = find(walk, ids[i]);
    return event;
}

bool lot_last_event(struct ledger *ledger, int64_t lot_id, struct lot_event *ret, struct err *err)
{
    struct lot_walk walk;
    int64_t *ids;
    size_t count;
    if (!list_last(ledger, lot_id, &ids, &count, err))
        return false;
    bool fine = lot_walk_init(&walk, ledger, err);
    if (fine) {
        *ret = *first_of(&walk, ids, count, lot_id);
        lot_walk_done(&walk);
    }
    free(ids);
    return fine;
}

static bool take_back(struct ledger *ledger, const int64_t *ids, size_t count, int64_t judge,
                      struct err *err)
{
    struct lot_walk walk;
    struct batch batch;
    if (!begin_batch(ledger, judge, &batch, err) || !lot_walk_init(&walk, ledger, err))
        return false;
    bool fine = true;
    for (size_t i = 0; fine && i < count; i++)
        fine = add(ledger, find(&walk, ids[i]), &batch, ids[i], err);
    lot_walk_done(&walk);
    return fine;
}

/* Whoever asked for it saw this event as the last one. */
static bool undo(struct ledger *ledger, int64_t lot_id, int64_t event_id, int64_t judge,
                 struct lot_event *ret, struct err *err)
{
    int64_t *ids;
    size_t count;
    if (!lot_last_event(ledger, lot_id, ret, err))
        return false;
    if (ret->id != event_id)
        return err_set(err, ERR_INPUT,
                       "What was recorded last of this lot has changed since; look at it again.");
    if (!list_last(ledger, lot_id, &ids, &count, err))
        return false;
    bool fine = take_back(ledger, ids, count, judge, err);
    free(ids);
    return fine;
}

bool lot_undo(struct ledger *ledger, int64_t lot_id, int64_t event_id, int64_t judge,
              struct lot_event *ret, struct err *err)
{
    struct lot_event event;
    if (!write_begin(ledger, err) ||
        !write_end(ledger, undo(ledger, lot_id, event_id, judge, &event, err), err))
        return false;
    *ret = event;
    ret->undone = true;
    return true;
}

bool lot_begin(struct ledger *ledger, const char *spawnings, const char *code, int64_t *ret_id,
               struct err *err)
{
    int64_t id = 0;
    if (!write_begin(ledger, err) ||
        !write_end(ledger, lot_find_or_add(ledger, spawnings, code, &id, err), err))
        return false;
    *ret_id = id;
    return true;
}

/* Which events are asked for: of one lot (0 = of all), of one day (NULL = of all). */
struct choice {
    int64_t lot_id;
    const char *day;
    bool undone;
};

static bool fits(const struct lot_event *event, const struct choice *choice)
{
    return (choice->undone || !event->undone) &&
           (choice->lot_id == 0 || event->lot_id == choice->lot_id ||
            event->target_id == choice->lot_id) &&
           (choice->day == NULL || strcmp(event->day, choice->day) == 0);
}

/* Takes over what fits of a walk and ends it. */
static void pick(struct lot_walk *walk, const struct choice *choice, struct lot_event **ret,
                 size_t *ret_count)
{
    size_t count = 0;
    for (size_t i = 0; i < walk->event_count; i++)
        if (fits(&walk->events[i], choice))
            walk->events[count++] = walk->events[i];
    *ret = walk->events;
    *ret_count = count;
    walk->events = NULL;
    lot_walk_done(walk);
}

static bool list(struct ledger *ledger, const struct choice *choice, struct lot_event **ret,
                 size_t *ret_count, struct err *err)
{
    struct lot_walk walk;
    if (!lot_walk_init(&walk, ledger, err))
        return false;
    pick(&walk, choice, ret, ret_count);
    return true;
}

bool lot_events_of_lot(struct ledger *ledger, int64_t lot_id, bool undone, struct lot_event **ret,
                       size_t *ret_count, struct err *err)
{
    return list(ledger, &(struct choice){.lot_id = lot_id, .undone = undone}, ret, ret_count, err);
}

bool lot_events_of_day(struct ledger *ledger, const char *day, struct lot_event **ret,
                       size_t *ret_count, struct err *err)
{
    return list(ledger, &(struct choice){.day = day}, ret, ret_count, err);
}

bool lot_events_list(struct ledger *ledger, struct lot_event **ret, size_t *ret_count,
                     struct err *err)
{
    return list(ledger, &(struct choice){.lot_id = 0}, ret, ret_count, err);
}

bool lot_events_among(struct ledger *ledger, const struct round_figures *figures,
                      size_t figure_count, struct lot_event **ret, size_t *ret_count,
                      struct err *err)
{
    static const struct choice all = {.lot_id = 0};
    struct lot_walk walk;
    if (!lot_walk_along(&walk, ledger, figures, figure_count, err))
        return false;
    pick(&walk, &all, ret, ret_count);
    return true;
}
