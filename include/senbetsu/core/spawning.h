/* A spawning: one dam, one or more sires, one date. */
#ifndef SENBETSU_CORE_SPAWNING_H
#define SENBETSU_CORE_SPAWNING_H

#include "senbetsu/core/column.h"
#include "senbetsu/core/count.h"

struct spawning {
    int64_t id;
    char code[CODE_SIZE];
    int season;    /* calendar year of the spawning, 0 = unknown */
    char date[11]; /* "" = unknown */
    char variety[CODE_SIZE];
    char dam[CODE_SIZE];    /* "" = unknown */
    char sires[CODES_SIZE]; /* in order of code; "" = unknown */
    enum siring siring;     /* SIRING_COUNT = not said */
    int64_t eggs, hatched;  /* NOT_COUNTED */
    char note[NOTE_SIZE];
};

enum {
    SPAWNING_COLUMN_CODE,
    SPAWNING_COLUMN_SEASON,
    SPAWNING_COLUMN_DATE,
    SPAWNING_COLUMN_VARIETY,
    SPAWNING_COLUMN_DAM,
    SPAWNING_COLUMN_SIRES,
    SPAWNING_COLUMN_SIRING,
    SPAWNING_COLUMN_EGGS,
    SPAWNING_COLUMN_HATCHED,
    SPAWNING_COLUMN_NOTE,
    SPAWNING_COLUMN_COUNT
};
extern const struct column spawning_columns[SPAWNING_COLUMN_COUNT];

/* Merges `spawning` into what was `known` (columns_init = nothing, for a new one). What is not
 * stated stays; the season is the date's year; sires stand in order of code and each once; several
 * sires without a stated siring are a group: any of them may be the sire. */
void spawning_merge(const struct spawning *known, struct spawning *spawning);

/* Is it consistent? Its date must be in its season, its siring single where it has one sire. On
 * false the column that is wrong as well. */
bool spawning_check(const struct spawning *spawning, int *ret_column, struct err *err);

/* More cannot hatch than there were eggs. A form does not take it; in a file, where a count may
 * well be wrong, it is taken, and the reports flag it. */
bool spawning_check_hatched(const struct spawning *spawning, struct err *err);

#endif
