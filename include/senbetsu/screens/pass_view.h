/* A pass on screen: the fish from the best down, each at its score on a scale with the thresholds
 * drawn in, and what would change if they were moved. */
#ifndef SENBETSU_SCREENS_PASS_VIEW_H
#define SENBETSU_SCREENS_PASS_VIEW_H

#include "senbetsu/screens/preview.h"
#include "senbetsu/ui/list.h"

enum pass_action {
    PASS_TURN = LIST_ACTION_COUNT, /* number = steps */
    PASS_DIAL,                     /* number = -1 or 1: the dial before or after */
    PASS_CHANGED,                  /* only the fish that change side, or all again */
    PASS_RECORD,
};

struct pass_view {
    struct preview preview;
    enum preview_dial dial;
    bool only_changed;
    bool asking; /* Enter was pressed once: the next one records */
    char title[4 * CODE_SIZE];
    char beside[2 * CODE_SIZE]; /* the standard and its version */
    struct list list;
    const char *message;
    bool alert;
};

/* After the trial was set up. */
void pass_ready(struct pass_view *view);

/* PASS_RECORD, LIST_LEAVE and LIST_HELP are the caller's to do; all else gives LIST_NOTHING. */
int pass_key(struct pass_view *view, struct key key);

void pass_draw(struct grid *grid, struct pass_view *view);

#endif
