/* Seasons and their spawnings. */
#ifndef SENBETSU_SCREENS_HOME_VIEW_H
#define SENBETSU_SCREENS_HOME_VIEW_H

#include "senbetsu/screens/round_line.h"
#include "senbetsu/ui/list.h"

enum home_action {
    HOME_ADD = LIST_ACTION_COUNT,
    HOME_CHANGE,
    HOME_JUDGE,
    HOME_RATES,
    HOME_PAIRS,
    HOME_SAMPLES
};

struct home_spawning {
    int season;
    char code[CODE_SIZE];
    char date[11];
    char variety[CODE_SIZE];
    char pair[NOTE_SIZE]; /* "K7 × P2; P3 (pooled)", "" = unknown */
    struct round_line *rounds;
    size_t round_count;
};

/* The list: a line that goes on where the hand was (where there is one), the spawnings, a line that
 * adds one. */
struct home_view {
    const char *ledger; /* its file */
    const char *judge;
    char go_on[NOTE_SIZE];           /* "K26-1 harvest, bowl 3, fish 14"; "" = nowhere yet */
    struct home_spawning *spawnings; /* latest season first */
    size_t spawning_count;
    struct list list;
    const char *message;
    bool alert;
};

enum home_item { HOME_ITEM_GO_ON, HOME_ITEM_SPAWNING, HOME_ITEM_ADD };

/* After the model was filled: counts the items. */
void home_ready(struct home_view *view);

/* What is in front; `*ret_spawning` is its index where it is a spawning. */
enum home_item home_front(const struct home_view *view, size_t *ret_spawning);

void home_draw(struct grid *grid, struct home_view *view);

#endif
