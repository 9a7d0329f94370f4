/* Records that should not be there: retired, and brought back. */
#ifndef SENBETSU_STORE_RETIRED_H
#define SENBETSU_STORE_RETIRED_H

#include "senbetsu/core/code.h"
#include "senbetsu/core/count.h"
#include "senbetsu/store/ledger.h"

enum record_kind {
    RECORD_JUDGE,
    RECORD_VARIETY,
    RECORD_PARENT,
    RECORD_SPAWNING,
    RECORD_LOT,
    RECORD_ROUND,
    RECORD_BOWL,
    RECORD_KIND_COUNT
};

/* Takes a record, and all that is below it (lots of a spawning, rounds of a lot, bowls of a round),
 * out of every list, number and proposal. ERR_INPUT with a sentence where something else stands on
 * it: it names that. ERR_ABSENT where there is no such record, or it is retired already. */
bool record_retire(struct ledger *ledger, enum record_kind kind, int64_t id, int64_t judge,
                   const char *why, struct err *err);

/* The reverse, with all that was retired with it. ERR_INPUT where its name is taken meanwhile, or
 * what it belongs to is still retired. */
bool record_bring_back(struct ledger *ledger, enum record_kind kind, int64_t id, int64_t judge,
                       const char *why, struct err *err);

/* What a record is called by people, retired or not: "bowl 3, harvest cull of K26-1". */
enum { RECORD_TITLE_SIZE = 256 };
struct record_title {
    char title[RECORD_TITLE_SIZE];
    bool retired;
};
bool record_title(struct ledger *ledger, enum record_kind kind, int64_t id,
                  struct record_title *ret, struct err *err);

/* A record that was retired by itself, not with what is above it. */
struct retired_record {
    enum record_kind kind;
    int64_t id;
    char title[RECORD_TITLE_SIZE];
    int64_t at_ms;
    char judge[CODE_SIZE]; /* who retired it, "" = not said */
    char why[NOTE_SIZE];
};

/* The last one first; the caller frees `*ret` with free(). */
bool retired_list(struct ledger *ledger, struct retired_record **ret, size_t *ret_count,
                  struct err *err);

/* A change of a record, or (`was` "") a statement about a round. */
struct record_change {
    int64_t at_ms;
    char judge[CODE_SIZE]; /* "" = not said */
    char field[64];
    char was[RECORD_TITLE_SIZE], becomes[RECORD_TITLE_SIZE]; /* "" = unknown */
    char why[NOTE_SIZE];
};

/* All changes of a record, the last one first; the caller frees `*ret` with free(). */
bool record_history(struct ledger *ledger, enum record_kind kind, int64_t id,
                    struct record_change **ret, size_t *ret_count, struct err *err);

#endif
