/* Which random terms of a parent model the data can tell apart. */
#ifndef STATS_PARENT_TERMS_H
#define STATS_PARENT_TERMS_H

#include "design.h"

/* Sets `ret_fit` [PARENT_TERMS]. Of terms that put the same spawnings together, spawning is kept
 * before the others, and a dam or a sire before the pair; but where dam, sire and pair are all the
 * same, it is the pair that is kept: nothing is known of either parent alone. */
void parent_terms_find(const struct parent_cells *cells, const struct parent_design *design,
                       unsigned asked, enum parent_fit *ret_fit);

#endif
