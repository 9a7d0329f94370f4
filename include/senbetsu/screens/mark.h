/* How a verdict is told in one letter and in a word, and which style goes with it. */
#ifndef SENBETSU_SCREENS_MARK_H
#define SENBETSU_SCREENS_MARK_H

#include "senbetsu/core/terms.h"
#include "senbetsu/ui/style.h"

struct mark {
    const char *letter; /* "K", "H", "R", "·" */
    const char *word;   /* "KEEP": what stands in large letters */
    enum style style;
};

extern const struct mark verdict_marks[VERDICT_COUNT];

#endif
