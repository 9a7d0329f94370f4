/* Ways through the screens that several end-to-end tests take. The spawning is K25-1, a Kikusui of
 * the demonstration farm, judged at harvest by the starting standard: eleven aspects, ten faults.
 */
#ifndef SENBETSU_TESTS_E2E_WALK_H
#define SENBETSU_TESTS_E2E_WALK_H

#include "support/farm.h"

/* From the seasons to a new round of K25-1 with its places ("" = not set) and fish expected. */
void walk_to_round(struct terminal *terminal, const char *places, const char *expected);

/* From the seasons to the tally of a new round of K25-1 at a stage (its number in the form), picked
 * (1) or removed (2) from `lot` fish ("" = not known). */
void walk_to_tally(struct terminal *terminal, const char *stage, const char *manner,
                   const char *lot);

/* From a new round to the sheet of its first bowl. */
void walk_to_bowl(struct terminal *terminal, const char *fish);

/* The screens of a fresh farm with a first bowl of `fish` fish up. */
struct terminal *walk_to_first_fish(const struct farm *farm, const char *fish);

/* Presses keys, then waits until the fish with this number has been put away. */
void judge(struct terminal *terminal, const char *keys, int fish);

/* The fish form of export of K25-1, whose columns are in the standard's order. */
void export_fish(const struct farm *farm, struct text *out);

#endif
