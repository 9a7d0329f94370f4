/* The parts of a cull list that only fish in basins need. cull_list.h says how they are read. */
#ifndef SENBETSU_PRINT_CULL_BASIN_H
#define SENBETSU_PRINT_CULL_BASIN_H

#include "senbetsu/print/cull_bowl.h"

/* Has this verdict and waits where its bowl's part of the list can name it: always in a cell, in a
 * basin only if that is its verdict's own. All others are among the fish to move first. */
bool cull_in_place(const struct cull_round *round, const struct fish_row *fish,
                   enum verdict verdict);

/* The fish to move first, basin by basin, and then what each basin must hold. `count` is the
 * round's. */
void cull_basin_moves(struct page *page, const struct cull_round *round,
                      const struct cull_count *count);

/* A bowl's fish of one verdict in place: by reason, boxes in fives, then a row for each with
 * a tag or judged after the pass. */
void cull_basin_boxes(struct page *page, const struct cull_round *round,
                      const struct bowl_fish *bowl, enum verdict verdict);

#endif
