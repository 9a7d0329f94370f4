/* A variety of the trade: its name, its Japanese name, and how else it is written. Standards,
 * spawnings and parents name it; whichever way it was written, they keep its name. */
#ifndef SENBETSU_CORE_VARIETY_H
#define SENBETSU_CORE_VARIETY_H

#include "senbetsu/core/column.h"

struct variety {
    int64_t id;
    char name[CODE_SIZE];
    char japanese[CODE_SIZE];   /* "" = not known */
    char spellings[CODES_SIZE]; /* others, separated by ';' */
};

enum {
    VARIETY_COLUMN_NAME,
    VARIETY_COLUMN_JAPANESE,
    VARIETY_COLUMN_SPELLINGS,
    VARIETY_COLUMN_COUNT
};
extern const struct column variety_columns[VARIETY_COLUMN_COUNT];

/* Is this one of its names? Capitals, marks, blanks and hyphens tell none apart: "shiro-utsuri" is
 * Shiro Utsuri, "Shōwa" Showa. */
bool variety_is(const struct variety *variety, const char *text);

/* The one of this name, or NULL. */
const struct variety *variety_find(const struct variety *varieties, size_t count, const char *text);

/* The one with a name that is next to this text, or NULL where there are none. `*ret_typo`: it is
 * so near that a slip is more likely than another variety: VARIETY_TYPO letters at most, and fewer
 * than half of those written, have to change, and no digit. */
enum { VARIETY_TYPO = 2 };
const struct variety *variety_nearest(const struct variety *varieties, size_t count,
                                      const char *text, bool *ret_typo);

/* Adds the text to its spellings, where it is not one of its names already. False where there is
 * no more room. */
bool variety_add_spelling(struct variety *variety, const char *text);

#endif
