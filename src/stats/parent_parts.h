/* A cross as a fitted parent model sees it. */
#ifndef STATS_PARENT_PARTS_H
#define STATS_PARENT_PARTS_H

#include "parent_inside.h"
#include "senbetsu/stats/parent_expect.h"

struct parent_parts {
    double *fixed; /* [columns] how often each fixed effect counts */
    /* Where each term's level stands in the model's vectors; PARENT_NEW, or PARENT_WITHOUT, also
     * for terms that are not in the model. */
    int place[PARENT_TERMS];
};

void parent_parts_init(struct parent_parts *parts, const struct parent_model *model,
                       const struct parent_cross *cross);
void parent_parts_done(struct parent_parts *parts);

#endif
