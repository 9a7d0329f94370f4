/* Lots: what each has by the book and where it is, and the events between its culls as they
 * happened.
 *
 * Nothing of this is stored. Culls and events of all lots are replayed in the order in which they
 * happened, because fish go from lot to lot: only so it is known how many "all" were that were put
 * into another one, and after which cull. */
#ifndef SENBETSU_REPORT_LOTS_H
#define SENBETSU_REPORT_LOTS_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/lot.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"

struct lot_line {
    struct lot_origin of; /* its code, spawnings, season, variety */
    char pond[CODE_SIZE]; /* where it is now, "" = nobody said */
    struct book_count book;
};

/* All lots: the latest season first (those of several seasons before it), then by spawnings, a
 * spawning's own lot first, then by code. */
bool lot_lines_list(struct ledger *ledger, struct lot_line **ret, size_t *ret_count,
                    struct err *err);

/* The same for who has the numbers of all rounds already. */
bool lot_lines_among(struct ledger *ledger, const struct cull_numbers *rounds, size_t round_count,
                     struct lot_line **ret, size_t *ret_count, struct err *err);
void lot_lines_free(struct lot_line *lines, size_t count);

/* How many fish went into a round by the book: its lot's number before it, on the round's first day
 * or, where it has not begun, today. What rests on a count of the lot or on fish put into it keeps
 * how it was made; what rests on an earlier cull is estimated, for nobody saw who died since.
 * NOT_COUNTED where it cannot be told, rests on the fry, or is overdrawn. */
bool lot_book_before(struct ledger *ledger, int64_t round_id, struct count *ret, struct err *err);

/* In the order in which they happened, fish that came into the lot among them; `undone`: those that
 * were taken back as well. The caller frees `*ret` with free(). */
bool lot_events_of_lot(struct ledger *ledger, int64_t lot_id, bool undone, struct lot_event **ret,
                       size_t *ret_count, struct err *err);

/* The same of all lots on one day, without those taken back. */
bool lot_events_of_day(struct ledger *ledger, const char *day, struct lot_event **ret,
                       size_t *ret_count, struct err *err);

/* The same of all lots and days. */
bool lot_events_list(struct ledger *ledger, struct lot_event **ret, size_t *ret_count,
                     struct err *err);

/* The same for who has the numbers of all rounds already. */
bool lot_events_among(struct ledger *ledger, const struct cull_numbers *rounds, size_t round_count,
                      struct lot_event **ret, size_t *ret_count, struct err *err);

/* How many fish the event was of and after which cull, by the book; it must not be taken back. */
bool lot_event_follow(struct ledger *ledger, struct lot_event *event, struct err *err);

/* An event in the words of lists. */
struct lot_news {
    const char *day;
    const char *spawning, *lot; /* spawning "" = a mixed lot */
    enum lot_event_kind kind;
    bool all;          /* a transfer of all there were */
    struct count fish; /* NOT_COUNTED = not known, or a move */
    const char *target, *pond, *note;
};

/* The texts are those of the event and of its lot. */
struct lot_news lot_news_of(const struct lot_event *event, const struct lot_origin *lot);

#endif
