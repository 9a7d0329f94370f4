/* From the ledger's records to the lines that screens show. */
#ifndef SENBETSU_SCREENS_ROUND_LINES_H
#define SENBETSU_SCREENS_ROUND_LINES_H

#include "senbetsu/screens/home_view.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/rounds.h"

struct round_line round_line_of(const struct round_summary *summary);

/* Without its rounds. */
void home_spawning_fill(struct home_spawning *line, const struct spawning *spawning);

/* The same of one lot. */
void home_spawning_fill_lot(struct home_spawning *line, const struct lot_origin *lot);

/* Adds those of `rounds` that are of this spawning, in their order; free(line->rounds). */
void home_spawning_add_rounds(struct home_spawning *line, const struct round_summary *rounds,
                              size_t count);

#endif
