/* Which fish could be set, and with whom. */
#ifndef SENBETSU_REPORT_CROSSES_H
#define SENBETSU_REPORT_CROSSES_H

#include "senbetsu/report/pedigree.h"
#include "senbetsu/store/spawnings.h"

/* What a fish could be set as. */
struct availability {
    bool as_dam, as_sire;
};

enum { SEASONS_AVAILABLE = 3, YEARS_UNTRIED = 8 };

/* A fish that is resting, sold or dead is not available, one that is said to be available is. Where
 * no state was given, a fish counts as available if it was set in one of the last SEASONS_AVAILABLE
 * seasons of the ledger; or if it was never set, has no offspring among the parents, and is not
 * known to be born more than YEARS_UNTRIED years before the last season. Where its sex is not
 * recorded, it goes by what it has been set as, and as both if it never was. Common practice. `ret`
 * has room for every fish of the pedigree. */
void parents_available(const struct pedigree *pedigree, const struct spawning *spawnings,
                       size_t spawning_count, struct availability *ret);

/* Places in the pedigree, and what the young would be counted as ("" = no variety). */
struct cross {
    int dam, sire;
    const char *variety;
};

/* Every available dam with every available sire, by their codes, whether they have been set
 * together or not, that both are of a variety or have been set for it; two fish whose sex nobody
 * knows make one cross. Only those of `variety`, "" = all. Texts belong to the pedigree and the
 * spawnings. The caller frees `*ret` with free(). */
void crosses_make(const struct pedigree *pedigree, const struct spawning *spawnings,
                  size_t spawning_count, const char *variety, struct cross **ret,
                  size_t *ret_count);

#endif
