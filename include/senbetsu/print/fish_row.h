/* A fish as lists and tables show it: every number already text or whole, so that print needs no
 * ledger. */
#ifndef SENBETSU_PRINT_FISH_ROW_H
#define SENBETSU_PRINT_FISH_ROW_H

#include "senbetsu/core/judgement.h"

struct fish_row {
    int bowl, number;
    enum verdict verdict;
    char score[32]; /* "71.4", "" = none */
    int rank;       /* 0 = none */
    char reason[REASON_SIZE];
    char reason_label[REASON_SIZE];
    enum verdict sent; /* where it was put when it was judged; VERDICT_OPEN = nowhere */
    bool since_pass;   /* judged or corrected after the pass the list is made from */
    int length_mm;     /* 0 = not measured */
    char tag[CODE_SIZE];
    char note[NOTE_SIZE];
};

#endif
