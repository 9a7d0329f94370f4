/* A parent: a brood fish. */
#ifndef SENBETSU_CORE_PARENT_H
#define SENBETSU_CORE_PARENT_H

#include "senbetsu/core/column.h"

struct parent {
    int64_t id;
    char code[CODE_SIZE];
    enum sex sex;
    char variety[CODE_SIZE];
    int born;            /* year, 0 = unknown */
    char dam[CODE_SIZE]; /* "" = unknown */
    char sire[CODE_SIZE];
    char note[NOTE_SIZE];
    enum brood_state state;
    char since[DATE_SIZE]; /* of the state; "" = unknown */
};

enum {
    PARENT_COLUMN_CODE,
    PARENT_COLUMN_SEX,
    PARENT_COLUMN_VARIETY,
    PARENT_COLUMN_BORN,
    PARENT_COLUMN_DAM,
    PARENT_COLUMN_SIRE,
    PARENT_COLUMN_NOTE,
    PARENT_COLUMN_STATE,
    PARENT_COLUMN_SINCE,
    PARENT_COLUMN_COUNT
};
extern const struct column parent_columns[PARENT_COLUMN_COUNT];

/* Merges `parent` into what was `known` (columns_init = nothing, for a new one). What is not stated
 * stays, but the day of another state than that stated. */
void parent_merge(const struct parent *known, struct parent *parent);

/* False where a day is stated and no state. */
bool parent_check_state(const struct parent *parent, struct err *err);

/* Is it resting, sold or dead? */
bool parent_is_out(const struct parent *parent);

/* May a fish of this sex be a dam (or, `as_dam` false, a sire)? One of unknown sex may. */
bool parent_check_role(const char *code, enum sex sex, bool as_dam, struct err *err);

#endif
