/* A season's spawnings, each on its way from the eggs to the fish that are kept. */
#ifndef SENBETSU_SCREENS_RATES_VIEW_H
#define SENBETSU_SCREENS_RATES_VIEW_H

#include "senbetsu/core/code.h"
#include "senbetsu/ui/list.h"

enum rates_action {
    RATES_BEFORE = LIST_ACTION_COUNT, /* the season before */
    RATES_AFTER,
    RATES_BOOK, /* the season on paper */
    RATES_PAIRS,
};

enum { STEP_TEXT_SIZE = 64, STEP_WARNINGS_MOST = 5, NOT_KNOWN = -1, WHOLE_BAR = 1000 };

/* One line of the way: of so many fish so many were left. The shares are worded by the caller. */
struct rates_step {
    char name[STEP_TEXT_SIZE];  /* "first", "first-harvest" */
    char alive[STEP_TEXT_SIZE]; /* per cent, of those that were left before */
    int64_t in, kept;           /* NOT_KNOWN */
    char rate[STEP_TEXT_SIZE], interval[STEP_TEXT_SIZE];
    int low, high; /* the bar, of WHOLE_BAR: full up to `low`, half full up to `high`; NOT_KNOWN */
    char warnings[STEP_WARNINGS_MOST][LABEL_SIZE];
    int warning_count;
};

/* A spawning, a lot mixed from several, or the season as a whole. */
struct rates_item {
    const char *title, *lot_origin;
    const struct rates_step *steps;
    size_t step_count;
};

struct rates_view {
    int season;
    int before, after; /* other seasons that have spawnings; 0 = none */
    const struct rates_item *items;
    size_t item_count;
    struct list list;
    const char *message;
    bool alert;
};

/* After the model was filled: counts the items. */
void rates_ready(struct rates_view *view);

/* Each bar is the share of its own line: a whole bar are the fish that went in. */
void rates_draw(struct grid *grid, struct rates_view *view);

#endif
