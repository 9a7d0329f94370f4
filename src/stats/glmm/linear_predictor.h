/* A cross as a fitted parent model sees it. */
#ifndef STATS_PARENT_PARTS_H
#define STATS_PARENT_PARTS_H

#include "private.h"
#include "senbetsu/stats/glmm/expect.h"

struct parent_parts {
    double *fixed;           /* [columns] how often each fixed effect counts */
    int place[PARENT_TERMS]; /* where each term's level stands in the model's vectors; -1 = nowhere
                              */
    double fresh[PARENT_TERMS]; /* how much of each term's variance is new */
};

void parent_parts_init(struct parent_parts *parts, const struct parent_model *model,
                       const struct parent_cross *cross);
void parent_parts_done(struct parent_parts *parts);

#endif
