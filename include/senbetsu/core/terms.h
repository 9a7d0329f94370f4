/* The trade's closed lists of words: one table each, from which parsing, printing and the ledger's
 * text columns all derive. The word is what files and the ledger hold ("harvest"). */
#ifndef SENBETSU_CORE_TERMS_H
#define SENBETSU_CORE_TERMS_H

#include "senbetsu/base/term.h"
#include <stdbool.h>
#include <stddef.h>

enum stage {
    STAGE_BLACK,
    STAGE_FIRST,
    STAGE_SECOND,
    STAGE_THIRD,
    STAGE_FOURTH,
    STAGE_HARVEST,
    STAGE_HOUSE,
    STAGE_COUNT
};
enum verdict { VERDICT_OPEN, VERDICT_KEEP, VERDICT_HOLD, VERDICT_REJECT, VERDICT_COUNT };
enum fate {
    FATE_UNDECIDED,
    FATE_POND_GRADE,
    FATE_PASSED_ON,
    FATE_KEPT_APART,
    FATE_PUT_DOWN,
    FATE_COUNT
};
enum manner { MANNER_PICK, MANNER_REMOVE, MANNER_JUDGE, MANNER_COUNT };
enum siring { SIRING_SINGLE, SIRING_SPLIT, SIRING_POOLED, SIRING_GROUP, SIRING_COUNT };
enum sex { SEX_UNKNOWN, SEX_FEMALE, SEX_MALE, SEX_COUNT };

/* Whether a parent can be set. */
enum brood_state {
    BROOD_UNSAID,
    BROOD_AVAILABLE,
    BROOD_RESTING,
    BROOD_SOLD,
    BROOD_DEAD,
    BROOD_STATE_COUNT
};

/* Where a judged fish waits for the evening: gone at once into the basin of its verdict, or in a
 * numbered cell, bag or under a tag until the list is worked through. */
enum waiting { WAITING_BASIN, WAITING_CELL, WAITING_COUNT };

/* How a number of fish was made. */
enum method {
    METHOD_UNSAID,
    METHOD_COUNTED,
    METHOD_WEIGHED,
    METHOD_DISPLACED,
    METHOD_SCOOPED,
    METHOD_ESTIMATED,
    METHOD_COUNT
};

/* Each list by name; FATE_UNDECIDED, SEX_UNKNOWN, BROOD_UNSAID and METHOD_UNSAID have the empty
 * word. */
extern const struct term stage_terms[STAGE_COUNT];
extern const struct term verdict_terms[VERDICT_COUNT];
extern const struct term fate_terms[FATE_COUNT];
extern const struct term manner_terms[MANNER_COUNT];
extern const struct term siring_terms[SIRING_COUNT];
extern const struct term sex_terms[SEX_COUNT]; /* "f", "m" */
extern const struct term brood_state_terms[BROOD_STATE_COUNT];
extern const struct term waiting_terms[WAITING_COUNT];
extern const struct term method_terms[METHOD_COUNT];

/* "third", or "first to harvest" where they are not the same. */
enum { STAGE_RANGE_SIZE = 32 };
const char *stage_range(enum stage first, enum stage last, char ret[STAGE_RANGE_SIZE]);

#endif
