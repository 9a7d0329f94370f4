/* One spawning and its rounds. */
#ifndef SENBETSU_SCREENS_SPAWNING_VIEW_H
#define SENBETSU_SCREENS_SPAWNING_VIEW_H

#include "senbetsu/screens/home_view.h"

enum spawning_action {
    SPAWNING_BEGIN = LIST_ACTION_COUNT, /* a round */
    SPAWNING_CHANGE,                    /* what is set for the round in front */
    SPAWNING_PASS,
    SPAWNING_LIST,
    SPAWNING_FATES, /* where the rejects went */
    SPAWNING_LOTS,
};

/* The list: the rounds, and a line that begins one. */
struct spawning_view {
    struct home_spawning spawning;
    struct list list;
    const char *message;
    bool alert;
};

void spawning_ready(struct spawning_view *view);

/* The index of the round in front, or the number of rounds for the line that begins one. */
size_t spawning_front(const struct spawning_view *view);

void spawning_draw(struct grid *grid, struct spawning_view *view);

#endif
