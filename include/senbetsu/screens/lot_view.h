/* The lots of a spawning: how many fish each has, where it is and what happened to it. */
#ifndef SENBETSU_SCREENS_LOT_VIEW_H
#define SENBETSU_SCREENS_LOT_VIEW_H

#include "senbetsu/core/code.h"
#include "senbetsu/ui/list.h"

enum lot_action {
    LOT_DEAD = LIST_ACTION_COUNT,
    LOT_LOST,
    LOT_FOUND,
    LOT_COUNT,
    LOT_MOVE,
    LOT_SPLIT,
    LOT_MERGE,
    LOT_UNDO,
    LOT_HISTORY, /* all that happened to the lot */
};

enum { LOT_TEXT_SIZE = 512, LOT_EVENTS_SHOWN = 2 };

/* Worded by the caller. */
struct lot_item {
    char title[LOT_TEXT_SIZE]; /* "west of K26-1", "barn, mixed" */
    char pond[CODE_SIZE];      /* "" = nobody said */
    char number[LOT_TEXT_SIZE];
    bool wrong;                                   /* the number cannot be right */
    char about[LOT_TEXT_SIZE];                    /* what its fish came from, and the like */
    char events[LOT_EVENTS_SHOWN][LOT_TEXT_SIZE]; /* the latest first */
    int event_count;
};

struct lot_view {
    char spawning[CODE_SIZE];
    const char *judge;
    struct lot_item *lots;
    size_t lot_count;
    struct list list;
    const char *message;
    bool alert;
};

/* After the model was filled: counts the items. */
void lot_ready(struct lot_view *view);

void lot_draw(struct grid *grid, struct lot_view *view);

#endif
