/* One round and its bowls. */
#ifndef SENBETSU_SCREENS_ROUND_VIEW_H
#define SENBETSU_SCREENS_ROUND_VIEW_H

#include "senbetsu/screens/round_line.h"
#include "senbetsu/ui/list.h"

enum round_action {
    ROUND_NEXT_BOWL = LIST_ACTION_COUNT,
    ROUND_SECOND_LOOK,
    ROUND_CHANGE,
    ROUND_COUNT, /* how many fish the bowl in front holds */
    ROUND_PASS,
    ROUND_LIST,
    ROUND_FIRST_LOOK,
    ROUND_SAMPLES,
    ROUND_FATES, /* where the rejects went */
};

struct bowl_line {
    int number;
    char day[11];
    struct verdict_counts tally;
};

/* The list: the bowls, a line for the next one, one for the second look where fish are held, one
 * for the first look and one for counting by samples. */
struct round_view {
    char spawning[CODE_SIZE];
    const char *judge;
    struct round_line round;
    struct bowl_line *bowls;
    size_t bowl_count;
    struct list list;
    const char *message;
    bool alert;
};

enum round_item {
    ROUND_ITEM_BOWL,
    ROUND_ITEM_NEXT,
    ROUND_ITEM_SECOND_LOOK,
    ROUND_ITEM_FIRST_LOOK,
    ROUND_ITEM_SAMPLES,
};

void round_ready(struct round_view *view);
enum round_item round_front(const struct round_view *view, size_t *ret_bowl);

/* Puts this kind of line in front, of the bowls the one with this number. */
void round_to(struct round_view *view, enum round_item item, int number);

/* Puts the first bowl in front in which fish are still to be judged, else the next bowl. */
void round_to_open(struct round_view *view);

void round_draw(struct grid *grid, struct round_view *view);

#endif
