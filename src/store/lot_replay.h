/* One pass through the culls and the events of all lots in the order in which they happened: what
 * each lot has by the book, and how many all were that were put into another lot. */
#ifndef STORE_LOT_WALK_H
#define STORE_LOT_WALK_H

#include "private.h"
#include "senbetsu/store/lot_events.h"

struct walked_lot {
    int64_t id;
    bool own;
    struct book_count book;
    char pond[CODE_SIZE];
    char born[11]; /* the day on which its first fish were put into it, "" = it was not so */
    int64_t born_revision; /* turn of the last event of that day which put fish into it */
    bool touched;          /* something has happened to it */
};

struct lot_walk {
    struct walked_lot *lots; /* by id */
    size_t lot_count;
    struct lot_event *events; /* in order, those taken back among them */
    size_t event_count;
};

bool lot_walk_init(struct lot_walk *walk, struct ledger *ledger, struct err *err);

/* The events alone, along figures of all rounds that were listed before: where there are none there
 * are no lots either. */
bool lot_walk_along(struct lot_walk *walk, struct ledger *ledger,
                    const struct round_figures *figures, size_t count, struct err *err);
/* Only what happened before this round; one that has not begun is of today. */
bool lot_walk_until(struct lot_walk *walk, struct ledger *ledger, int64_t round_id,
                    struct err *err);

void lot_walk_done(struct lot_walk *walk);

/* NULL where there is none. */
struct walked_lot *lot_walk_find(struct lot_walk *walk, int64_t lot_id);

#endif
