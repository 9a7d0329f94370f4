/* Who judges. */
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

#endif
