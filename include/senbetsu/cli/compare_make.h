/* Two pairs side by side, from what the ledger knows: docs/compare.md. */
#ifndef SENBETSU_CLI_COMPARE_MAKE_H
#define SENBETSU_CLI_COMPARE_MAKE_H

#include "senbetsu/cli/broods.h"
#include "senbetsu/print/compare_table.h"

struct compared {
    struct comparison comparison;
    struct broods broods; /* the texts belong to these … */
    struct compare_row *rows;
    struct compare_left_out *left_out;
};

/* `a` and `b` as pair_find takes them; not the same. `stage` -1 = from the earliest cull to the
 * latest in which both pairs had fish of the same seasons, black fry only where there is no other.
 */
bool compare_make(struct ledger *ledger, const char *a, const char *b, int stage,
                  struct compared *ret, struct err *err);
void compare_done(struct compared *compared);

#endif
