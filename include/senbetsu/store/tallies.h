/* Keys that speak of no certain fish: tallies of pick and remove rounds, picks of a closer look at
 * the basins of a judged one, and first looks at lots. A key is a row, and rows are only ever
 * added. */
#ifndef SENBETSU_STORE_TALLIES_H
#define SENBETSU_STORE_TALLIES_H

#include "senbetsu/core/first_look.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/ledger.h"

/* One transaction: the key and the place (NULL leaves it). A mark with a scoop names its id. */
bool tally_record(struct ledger *ledger, int64_t round_id, int64_t judge,
                  const struct tally_mark *mark, const struct place *place, struct err *err);

/* The last key of this judge in the round, made on this machine and not yet taken back: the one
 * that is taken back next. ERR_ABSENT where there is none. */
bool tally_last(struct ledger *ledger, int64_t round_id, int64_t judge, struct tally_mark *ret,
                struct err *err);

/* Takes that key back, in one transaction with the place, and says which one it was. ERR_ABSENT
 * where there is none. */
bool tally_undo(struct ledger *ledger, int64_t round_id, int64_t judge, const struct place *place,
                struct tally_mark *ret, struct err *err);

/* Saves a measured scoop (its id is filled in), from now on this judge's in the round. */
bool scoop_save(struct ledger *ledger, int64_t round_id, int64_t judge, struct scoop *scoop,
                const struct place *place, struct err *err);

/* The scoop of this judge in the round measured last, else anybody's; id 0 where none was. */
bool scoop_latest(struct ledger *ledger, int64_t round_id, int64_t judge, struct scoop *ret,
                  struct err *err);

/* Everything tallied in a round, whoever did it; the caller frees `*ret` with free(). */
bool tally_lines(struct ledger *ledger, int64_t round_id, struct tally_line **ret,
                 size_t *ret_count, struct err *err);

/* The same of one day alone. */
bool tally_lines_of_day(struct ledger *ledger, int64_t round_id, const char *day,
                        struct tally_line **ret, size_t *ret_count, struct err *err);

/* What closer looks at the basins of a round judged fish by fish have picked, whoever did it. */
bool picks_get(struct ledger *ledger, int64_t round_id, struct picks *ret, struct err *err);

/* Takes back the last pick of this sort (`reason` as struct tally_mark has it), whoever made it on
 * this machine, in one transaction with the place. ERR_ABSENT where there is none. */
bool pick_undo(struct ledger *ledger, int64_t round_id, int64_t judge, const char *reason,
               const struct place *place, struct err *err);

/* The pace of a judge in a round since an instant. */
bool tally_pace_of(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t since_ms,
                   struct tally_pace *ret, struct err *err);

/* One transaction: the fish and the place (NULL leaves it). */
bool first_look_record(struct ledger *ledger, int64_t round_id, int64_t judge, bool good,
                       const struct place *place, struct err *err);

/* Takes back the last fish of this judge in the round, called on this machine and not yet taken
 * back; in one transaction with the place. ERR_ABSENT where there is none. */
bool first_look_undo(struct ledger *ledger, int64_t round_id, int64_t judge,
                     const struct place *place, struct err *err);

/* All fish looked at before a round, whoever called them, in the order in which they were. */
bool first_look_get(struct ledger *ledger, int64_t round_id, struct first_look *ret,
                    struct err *err);

#endif
