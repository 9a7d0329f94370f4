/* The spawnings of one pair, season by season. */
#ifndef SENBETSU_SCREENS_PAIR_VIEW_H
#define SENBETSU_SCREENS_PAIR_VIEW_H

#include "senbetsu/core/code.h"
#include "senbetsu/ui/list.h"
#include "senbetsu/ui/whisker.h"

enum { PAIR_TEXT_SIZE = 64 };

/* The numbers are worded by the caller; "" = not known. */
struct pair_spawning {
    int season;
    char code[CODE_SIZE];
    char in[PAIR_TEXT_SIZE], kept[PAIR_TEXT_SIZE];
    char rate[PAIR_TEXT_SIZE], interval[PAIR_TEXT_SIZE];
    struct whisker whisker;
};

struct pair_view {
    char title[NOTE_SIZE];
    char beside[PAIR_TEXT_SIZE];
    struct pair_spawning *spawnings;
    size_t spawning_count;
    int most; /* the end of the scale, in millionths */
    struct list list;
    const char *message;
    bool alert;
};

/* After the model was filled: counts the lines. */
void pair_ready(struct pair_view *view);

void pair_draw(struct grid *grid, struct pair_view *view);

#endif
