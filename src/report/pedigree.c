/* Parents come from the store by code, so a fish is found by binary search. */
#include "senbetsu/report/pedigree.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

static int compare_code(const void *code, const void *parent)
{
    return strcmp(code, ((const struct parent *)parent)->code);
}

int pedigree_place(const struct pedigree *pedigree, const char *code)
{
    if (pedigree->count == 0)
        return UNKNOWN_PARENT;
    const struct parent *found = bsearch(code, pedigree->parents, (size_t)pedigree->count,
                                         sizeof *pedigree->parents, compare_code);
    return found == NULL ? UNKNOWN_PARENT : (int)(found - pedigree->parents);
}

bool pedigree_read(struct ledger *ledger, struct pedigree *ret, struct err *err)
{
    struct pedigree pedigree;
    size_t count;
    if (!parent_list(ledger, &pedigree.parents, &count, err))
        return false;
    pedigree.count = (int)count;
    pedigree.fish = alloc_zeroed(count, sizeof *pedigree.fish);
    for (size_t i = 0; i < count; i++) {
        const struct parent *parent = &pedigree.parents[i];
        pedigree.fish[i] = (struct pedigree_fish){.code = parent->code,
                                                  .dam = pedigree_place(&pedigree, parent->dam),
                                                  .sire = pedigree_place(&pedigree, parent->sire)};
    }
    *ret = pedigree;
    return true;
}

void pedigree_done(struct pedigree *pedigree)
{
    free(pedigree->parents);
    free(pedigree->fish);
}
