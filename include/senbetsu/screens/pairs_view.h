/* Pairs over the seasons as a chart, a line each, and crosses that were not tried yet among them.
 */
#ifndef SENBETSU_SCREENS_PAIRS_VIEW_H
#define SENBETSU_SCREENS_PAIRS_VIEW_H

#include "senbetsu/core/code.h"
#include "senbetsu/ui/list.h"
#include "senbetsu/ui/whisker.h"

enum pairs_action {
    PAIRS_STAGE = LIST_ACTION_COUNT, /* the binding's number: -1 = the cull before, 1 = after */
    PAIRS_SORT,
    PAIRS_UNTRIED,
    PAIRS_WHAT_IF,
    PAIRS_PAGE, /* the pairs on paper */
};

/* What the lines can be sorted by. */
enum pairs_column {
    PAIRS_NAME,
    PAIRS_RESTS,
    PAIRS_COUNTED,
    PAIRS_EXPECTED,
    PAIRS_BEST,
    PAIRS_INBREEDING,
    PAIRS_COLUMN_COUNT
};

enum { PAIRS_TEXT_SIZE = 64 };

/* The numbers are worded by the caller; "" = not known. */
struct pairs_line {
    char texts[PAIRS_COLUMN_COUNT][PAIRS_TEXT_SIZE];
    const char *variety; /* "" = not known; lines of the same stand together */
    int most;            /* the end of the variety's scale, in millionths */
    struct whisker whisker;
    bool untried;
    bool chosen;               /* the cross that was asked for */
    char about[ERR_TEXT_SIZE]; /* a sentence or two, at the foot while it is in front */
};

struct pairs_view {
    char stages[PAIRS_TEXT_SIZE]; /* "first to harvest" */
    const struct pairs_line *lines;
    size_t line_count;
    size_t untried_hidden;
    enum pairs_column sorted;
    const char *trouble; /* why nothing is expected; "" */
    struct list list;
    const char *message;
    bool alert;
};

/* After the model was filled: counts the lines. */
void pairs_ready(struct pairs_view *view);

void pairs_draw(struct grid *grid, struct pairs_view *view);

#endif
