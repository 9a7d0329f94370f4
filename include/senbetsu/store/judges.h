/* Who judges, and where each judge left off. */
#ifndef SENBETSU_STORE_JUDGES_H
#define SENBETSU_STORE_JUDGES_H

#include "senbetsu/core/code.h"
#include "senbetsu/store/ledger.h"

struct judge {
    int64_t id;
    char name[CODE_SIZE];
};

/* Finds the judge by name or adds one. An empty name gives id 0, "not said". */
bool judge_named(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err);
bool judge_list(struct ledger *ledger, struct judge **ret, size_t *ret_count, struct err *err);
/* Those who judged or tallied fish of a round, checks left out. */
bool judges_of_round(struct ledger *ledger, int64_t round_id, struct judge **ret, size_t *ret_count,
                     struct err *err);

/* Where a judge's cursor is. `second_look`: the queue is the round's held fish. `in_sheet`: the
 * sheet was open when this was written, so coming back opens it again. */
struct place {
    int64_t judge;
    int64_t round_id;
    int64_t bowl_id; /* 0 = no bowl yet */
    int number;      /* fish in its bowl */
    char aspect[CODE_CHARACTERS + 1];
    bool second_look;
    bool in_sheet;
};

bool place_save(struct ledger *ledger, const struct place *place, struct err *err);
/* ERR_ABSENT where this judge has none; judge -1 = whoever wrote last. */
bool place_get(struct ledger *ledger, int64_t judge, struct place *ret, struct err *err);

#endif
