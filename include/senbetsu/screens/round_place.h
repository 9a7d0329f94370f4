/* Where the hand is in a round without a bowl: at its tally, or at the first look at its lot. The
 * ledger keeps it in the number of the place. */
#ifndef SENBETSU_SCREENS_ROUND_PLACE_H
#define SENBETSU_SCREENS_ROUND_PLACE_H

#include "senbetsu/store/fish.h"

enum { AT_SCOOPS = 1, AT_FIRST_LOOK = 2 };

/* `at`: any of the above, 0 = neither. `open`: this is what the next session comes back to. */
struct place round_place(int64_t judge, int64_t round_id, int at, bool open);

bool round_place_is(const struct place *place, int at);

#endif
