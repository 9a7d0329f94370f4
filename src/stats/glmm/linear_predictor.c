#include "linear_predictor.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

/* What is taken to be the pair's own of the variance between spawnings, where each pair was set
 * once and nothing tells the two apart. A choice, no estimate: docs/parent-model.md. */
static const double PART_OF_PAIR = 1.0 / 6;

/* Spawnings without fish, or of seasons that were left out, are as good as new. */
static int place_of_spawning(const struct parent_cells *cells, int spawning)
{
    for (int i = 0; i < cells->count; i++)
        if (cells->cell[i].level[PARENT_SPAWNING] == spawning)
            return i;
    return PARENT_NEW;
}

static void place(struct parent_parts *parts, const struct parent_model *model, int term, int level)
{
    parts->place[term] = -1;
    if (model->effects.fit[term] != PARENT_FITTED)
        return;
    if (term == PARENT_SPAWNING && level >= 0)
        level = place_of_spawning(&model->cells, level);
    if (level >= 0)
        parts->place[term] = level;
    else if (level == PARENT_NEW)
        parts->fresh[term] = 1;
}

static bool hides_pair(const struct parent_model *model, const struct parent_cross *cross)
{
    return model->effects.fit[PARENT_PAIR] == PARENT_SAME_AS_SPAWNING &&
           cross->level[PARENT_PAIR] != PARENT_WITHOUT &&
           cross->level[PARENT_SPAWNING] == PARENT_WITHOUT;
}

void parent_parts_init(struct parent_parts *parts, const struct parent_model *model,
                       const struct parent_cross *cross)
{
    const struct parent_design *design = &model->design;
    *parts = (struct parent_parts){.fresh = {0}};
    parts->fixed = alloc_zeroed((size_t)design->columns, sizeof *parts->fixed);
    if (cross->season == PARENT_TYPICAL)
        parent_design_typical(design, cross->variety, parts->fixed);
    else
        parent_design_season(design, cross->season, parts->fixed);
    if (cross->variety != PARENT_ANY_VARIETY)
        parent_design_variety(design, cross->variety, parts->fixed);
    for (int term = 0; term < PARENT_TERMS; term++)
        place(parts, model, term, cross->level[term]);
    if (hides_pair(model, cross))
        parts->fresh[PARENT_SPAWNING] = PART_OF_PAIR;
}

void parent_parts_done(struct parent_parts *parts)
{
    free(parts->fixed);
}
