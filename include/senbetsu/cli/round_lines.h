/* From the ledger's records to the lines that screens show. */
#ifndef SENBETSU_CLI_ROUND_LINES_H
#define SENBETSU_CLI_ROUND_LINES_H

#include "senbetsu/store/descents.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/ui/home_view.h"

/* The code of the round's spawning; "mixed" where its fish are of several. */
const char *round_whose(const struct round *round);

struct round_line round_line_of(const struct round_summary *summary);

/* Without its rounds. */
void home_spawning_fill(struct home_spawning *line, const struct spawning *spawning);

/* The same of one lot. */
void home_spawning_fill_lot(struct home_spawning *line, const struct descent *lot);

/* Adds those of `rounds` that are of this spawning, in their order; free(line->rounds). */
void home_spawning_add_rounds(struct home_spawning *line, const struct round_summary *rounds,
                              size_t count);

#endif
