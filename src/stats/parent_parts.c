#include "parent_parts.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

/* Spawnings without fish, or of seasons that were left out, are as good as new. */
static int place_of_spawning(const struct parent_cells *cells, int spawning)
{
    for (int i = 0; i < cells->count; i++)
        if (cells->cell[i].level[PARENT_SPAWNING] == spawning)
            return i;
    return PARENT_NEW;
}

static int place_of(const struct parent_model *model, int term, int level)
{
    if (model->effects.fit[term] != PARENT_FITTED)
        return PARENT_WITHOUT;
    return term == PARENT_SPAWNING && level >= 0 ? place_of_spawning(&model->cells, level) : level;
}

void parent_parts_init(struct parent_parts *parts, const struct parent_model *model,
                       const struct parent_cross *cross)
{
    const struct parent_design *design = &model->design;
    parts->fixed = alloc_zeroed((size_t)design->columns, sizeof *parts->fixed);
    if (cross->season == PARENT_TYPICAL)
        parent_design_typical(design, parts->fixed);
    else
        parent_design_season(design, cross->season, parts->fixed);
    if (cross->variety != PARENT_ANY_VARIETY)
        parent_design_variety(design, cross->variety, parts->fixed);
    for (int term = 0; term < PARENT_TERMS; term++)
        parts->place[term] = place_of(model, term, cross->level[term]);
}

void parent_parts_done(struct parent_parts *parts)
{
    free(parts->fixed);
}
