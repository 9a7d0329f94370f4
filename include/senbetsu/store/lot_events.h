/* What happens to lots outside their culls. Events are only ever added; one that was wrong is taken
 * back by another (docs/decisions/lots.md). */
#ifndef SENBETSU_STORE_LOT_EVENTS_H
#define SENBETSU_STORE_LOT_EVENTS_H

#include "senbetsu/core/lot.h"
#include "senbetsu/store/ledger.h"

/* Records an event: lot_id, target_id, day, kind, all, fish, pond and note are read. ERR_INPUT
 * where it cannot be: no day, no number (but a move has none, and a transfer of all), a move
 * without a pond, a transfer into a lot that is not of all the spawnings whose fish come into it.
 */
bool lot_event_record(struct ledger *ledger, const struct lot_event *said, int64_t judge,
                      struct err *err);

/* Splits a lot: puts fish (`said` as for a transfer, without its target) into the lot `code` of the
 * same spawnings, which is begun where there is none. `said->pond`: where that lot is from this day
 * on, "" = not said. */
bool lot_split(struct ledger *ledger, const struct lot_event *said, const char *code, int64_t judge,
               int64_t *ret_lot, struct err *err);

/* Puts all fish of several lots together in the lot `code` of all their spawnings: a mixed one
 * where they are of several. It is begun where there is none; one of the lots may be it. Of `said`
 * the day and note are read. */
bool lot_merge(struct ledger *ledger, const int64_t *lots, size_t count, const char *code,
               const struct lot_event *said, int64_t judge, int64_t *ret_lot, struct err *err);

/* What was recorded last of a lot and stands, whatever day it was of, also where it is fish that
 * came into it, as it was said; of several events that are one batch the first one of this lot.
 * ERR_ABSENT where there is nothing. */
bool lot_last_event(struct ledger *ledger, int64_t lot_id, struct lot_event *ret, struct err *err);

/* Takes back an event, whichever it is, and all that was said in the same batch. A lot whose fish
 * came by it and to which nothing else has happened is retired. ERR_ABSENT where it was undone
 * already. */
bool lot_event_take_back(struct ledger *ledger, int64_t event_id, int64_t judge, struct err *err);

/* Takes it back and says it again as it should have been: the new event names the old one.
 * ERR_INPUT as lot_event_record, and where it was part of a batch. */
bool lot_event_correct(struct ledger *ledger, int64_t event_id, const struct lot_event *said,
                       int64_t judge, struct err *err);

/* Takes back the last event of a lot, `event_id` as lot_last_event gave it, and all that was said
 * in the same batch: lots that were put together (lot_merge) come apart whole, a new lot's pond
 * (lot_split) goes with its fish. ERR_INPUT where that is not the last one any more: somebody else
 * recorded or took back something meanwhile. Gives the event. */
bool lot_undo(struct ledger *ledger, int64_t lot_id, int64_t event_id, int64_t judge,
              struct lot_event *ret, struct err *err);

/* The lot of a spawning ("" = its own), or the one mixed from several (their codes separated by
 * ';'). It is begun where it is not there. */
bool lot_begin(struct ledger *ledger, const char *spawnings, const char *code, int64_t *ret_id,
               struct err *err);

/* Where a lot is: the pond it was moved into last; "" = nobody said. */
bool lot_pond(struct ledger *ledger, int64_t lot_id, char ret[CODE_SIZE], struct err *err);

/* All events of the ledger in the order in which they happened, as they were said, those that were
 * taken back, or whose other lot is retired, among them; report/lots.h adds up what they come to.
 * The caller frees `*ret` with free(). */
bool lot_events_read(struct ledger *ledger, struct lot_event **ret, size_t *ret_count,
                     struct err *err);

#endif
