/* The result of a pass, tried or recorded: as CSV, and on paper by rank with the cut line. */
#ifndef SENBETSU_PRINT_PASS_H
#define SENBETSU_PRINT_PASS_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/pass.h"

/* The fish of a pass, each made into a row when it is its turn: pass_run_row of a pass_run. */
struct pass_rows {
    const void *of;
    void (*row)(const void *of, size_t index, struct fish_row *ret);
    size_t count;
};

/* bowl,fish,score,rank,verdict,reason — in their order. */
void pass_csv(const struct pass_rows *rows, struct text *out);

struct pass_result {
    const char *title;
    struct pass_rows rows;
    const uint32_t *order; /* their indexes, best first, those without a rank last */
    int unseen;            /* fish of the round that have no row */
    int picked;            /* held fish that are kept since a closer look at the basins */
    const char *open;      /* what the places leave to a person (pass_run_open_text), or "" */
};

/* For people. The share kept of the fish judged with its 95 % Wilson interval, the counts, a tie
 * for the last places, what kept the others from being kept, and the fish by rank with the cut line
 * under the last one that its score keeps; fish kept by hand may stand below it. */
void pass_print(const struct pass_result *result, struct page_setup setup, struct text *out);

#endif
