/* Two pairs side by side, from what the ledger knows: docs/compare.md. */
#ifndef SENBETSU_REPORT_COMPARISON_H
#define SENBETSU_REPORT_COMPARISON_H

#include "senbetsu/print/compare_table.h"
#include "senbetsu/report/families.h"

struct compared {
    struct comparison comparison;
    struct families families; /* the texts belong to these … */
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
