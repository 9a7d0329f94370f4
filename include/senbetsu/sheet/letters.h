/* Which letter goes to which aspect and fault of a standard. */
#ifndef SENBETSU_SHEET_LETTERS_H
#define SENBETSU_SHEET_LETTERS_H

#include "senbetsu/core/standard.h"

struct letters {
    char aspects[STANDARD_ASPECTS]; /* capital letters unless the standard says otherwise */
    char faults[STANDARD_FAULTS];   /* small letters; 0 = none was left (the keypad reaches it) */
};

/* Keys the standard gives stand; the others get the first free letter of their label, then of their
 * code, then of the alphabet: capitals for aspects, STANDARD_SMALL_LETTERS for faults, and capitals
 * for faults when those run out. Always the same for the same standard. */
struct letters letters_assign(const struct standard *standard);

#endif
