/* The ledger's parents as a pedigree, in which fish are known by their places: so kinship is
 * computed (stats/kinship.h). */
#ifndef SENBETSU_REPORT_PEDIGREE_H
#define SENBETSU_REPORT_PEDIGREE_H

#include "senbetsu/core/terms.h"
#include "senbetsu/stats/kinship.h"
#include "senbetsu/store/parents.h"

struct kin {
    const struct kinship *kinship; /* both fish are in it */
    int a, b;                      /* places in its pedigree */
    enum sex sex_a, sex_b;
};

/* The same fish at the same place in both, by code. */
struct pedigree {
    struct parent *parents;
    struct pedigree_fish *fish;
    int count;
};

bool pedigree_read(struct ledger *ledger, struct pedigree *ret, struct err *err);
void pedigree_done(struct pedigree *pedigree);

/* The place of the fish of this code, UNKNOWN_PARENT where there is none. */
int pedigree_place(const struct pedigree *pedigree, const char *code);

#endif
