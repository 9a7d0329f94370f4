/* A fish as lists and tables show it: every number already text or whole, so that print needs no
 * ledger. */
#ifndef SENBETSU_PRINT_FISH_ROW_H
#define SENBETSU_PRINT_FISH_ROW_H

#include "senbetsu/core/judgement.h"

#include <stddef.h>

struct fish_row {
    int bowl, number;
    enum verdict verdict;
    enum verdict sent; /* where it was put when it was judged; VERDICT_OPEN = nowhere */
    int rank;          /* 0 = none */
    int length_mm;     /* 0 = not measured */
    bool since_pass;   /* judged or corrected after the pass the list is made from */
    char score[32];    /* "71.4", "" = none */
    char reason[REASON_SIZE];
    char reason_label[REASON_SIZE];
    char tag[CODE_SIZE];
    char note[NOTE_SIZE];
};

/* Rows in another order, without copying them. */
struct fish_ref {
    const struct fish_row *row;
};

/* `count` references ordered by `compare`, which is given two of them; free with free(). */
struct fish_ref *fish_sorted(const struct fish_row *rows, size_t count,
                             int (*compare)(const void *, const void *));

#endif
