/* A lot is fish kept together in one pond: its events outside the culls, and its book count, which
 * is its last known number with the fish added and removed since. */
#ifndef SENBETSU_CORE_LOT_H
#define SENBETSU_CORE_LOT_H

#include "senbetsu/core/column.h"

/* What happens to a lot outside its culls. */
enum lot_event_kind {
    EVENT_COUNT,    /* the whole lot was counted */
    EVENT_DEAD,     /* fish were found dead */
    EVENT_LOST,     /* fish are missing: a heron, a torn net */
    EVENT_FOUND,    /* fish turned up again */
    EVENT_MOVE,     /* the lot is in another pond from now on */
    EVENT_TRANSFER, /* fish were put into another lot */
    EVENT_KIND_COUNT
};
extern const struct term lot_event_terms[EVENT_KIND_COUNT];

struct lot_event {
    int64_t id;
    int64_t lot_id, target_id;              /* target: of a transfer, else 0 */
    char lot[CODE_SIZE], target[CODE_SIZE]; /* their codes; "" = no target */
    char day[11];
    enum lot_event_kind kind;
    bool all;          /* a transfer of all there were */
    struct count fish; /* how many; NOT_COUNTED: a move, or all there were, until the replay
                          (report/lots.h) says how many those are by the book */
    /* Both by the replay: */
    enum stage after; /* the last cull of the lot before it, as book_count has it */
    bool followed;    /* it is known after which cull it was, and of a transfer that the other lot
                         is new or had been through the same one */
    char pond[CODE_SIZE]; /* of a move, else "" */
    char note[NOTE_SIZE]; /* "" = none */
    bool undone;
    int64_t revision; /* orders the events of a day */
};

/* Nothing has happened: NOT_COUNTED fish, no cull. */
void lot_event_init(struct lot_event *event);

/* What a row of the lots file states: an event, and its lots by their spawnings and codes. */
struct lot_statement {
    char spawnings[CODES_SIZE], lot[CODE_SIZE];
    char into_spawnings[CODES_SIZE], into_lot[CODE_SIZE]; /* of a transfer */
    struct lot_event event;
};

enum {
    LOT_COLUMN_SPAWNING,
    LOT_COLUMN_CODE,
    LOT_COLUMN_DATE,
    LOT_COLUMN_EVENT,
    LOT_COLUMN_NUMBER, /* with how it was made and its error */
    LOT_COLUMN_INTO_SPAWNING = LOT_COLUMN_NUMBER + 3,
    LOT_COLUMN_INTO_CODE,
    LOT_COLUMN_POND,
    LOT_COLUMN_NOTE,
    LOT_COLUMN_COUNT
};
extern const struct column lot_statement_columns[LOT_COLUMN_COUNT];

/* What a book count began with. */
enum book_base {
    BOOK_NOTHING, /* no fish were put into the lot yet */
    BOOK_UNKNOWN,
    BOOK_FRY,   /* those that hatched: most of them die before the first cull, and nobody sees it */
    BOOK_MOVED, /* the lot began with fish out of other lots */
    BOOK_CULL,  /* what its last cull kept */
    BOOK_COUNT, /* the lot was counted */
};

struct book_count {
    struct count now;    /* NOT_COUNTED = it cannot be told; 0 where it is overdrawn */
    int64_t overdrawn;   /* fish removed beyond those there were; above 0 a number is wrong */
    enum book_base base; /* what `now` rests on */
    enum stage after;    /* its last cull, or that of the lot its fish came from; STAGE_COUNT =
                            none so far */
    bool undated;        /* its last cull has no day: nobody knows what came before it */
    int64_t dead, lost, found, moved_in, moved_out; /* in all */
};

/* A spawning's own lot begins with the fry that hatched (NOT_COUNTED = unknown), any other one with
 * the first fish that are put into it. */
void book_begin(struct book_count *book, bool own, int64_t hatched);

/* A cull of the lot; `kept` NOT_COUNTED leaves the number unknown. `dated`: its day is known. The
 * number is unknown after fish were added or removed on a day that may lie before or after a cull;
 * the next count or cull makes it known again. */
void book_cull(struct book_count *book, enum stage stage, const struct count *kept, bool dated);

/* EVENT_COUNT, EVENT_DEAD, EVENT_LOST or EVENT_FOUND of so many fish. Errors of estimates add up as
 * squares (count_together); dead, lost or found fish without a stated method are taken as counted,
 * so that a counted lot stays counted. */
void book_apply(struct book_count *book, enum lot_event_kind kind, const struct count *fish);

/* Fish put from one lot into another. NOT_COUNTED = all there were: what went is then the number by
 * the book, and nothing is left. Returns how many were moved; NOT_COUNTED = unknown, as when all
 * fish of an overdrawn lot are. */
struct count book_transfer(struct book_count *from, struct book_count *into,
                           const struct count *fish);

#endif
