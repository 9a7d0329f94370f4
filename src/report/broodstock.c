/* The parents with what came of them. Fish keep their places in the pedigree, so that whoever walks
 * from a fish to its dam needs no search. */
#include "senbetsu/report/broodstock.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

bool spawning_has_parent(const struct spawning *spawning, const char *code)
{
    return strcmp(spawning->dam, code) == 0 || code_in_list(spawning->sires, code);
}

static void note(struct broodstock *stock, const char *code, int season)
{
    int place = pedigree_place(&stock->pedigree, code);
    if (place == UNKNOWN_PARENT)
        return;
    struct brood_fish *fish = &stock->fish[place];
    fish->spawnings++;
    fish->last_season = season > fish->last_season ? season : fish->last_season;
}

static void fill(struct broodstock *stock)
{
    const struct pedigree *pedigree = &stock->pedigree;
    struct availability *available = alloc_zeroed((size_t)pedigree->count, sizeof *available);
    char sire[CODE_SIZE];
    parents_available(pedigree, stock->spawnings, stock->spawning_count, available);
    for (int i = 0; i < pedigree->count; i++) {
        const struct pedigree_fish *fish = &pedigree->fish[i];
        stock->fish[i].parent = &pedigree->parents[i];
        stock->fish[i].available = available[i];
        if (fish->dam != UNKNOWN_PARENT)
            stock->fish[fish->dam].young++;
        if (fish->sire != UNKNOWN_PARENT)
            stock->fish[fish->sire].young++;
    }
    for (size_t i = 0; i < stock->spawning_count; i++) {
        const struct spawning *spawning = &stock->spawnings[i];
        note(stock, spawning->dam, spawning->season);
        for (const char *list = spawning->sires; code_next(&list, sire);)
            note(stock, sire, spawning->season);
    }
    free(available);
}

bool broodstock_read(struct ledger *ledger, struct broodstock *ret, struct err *err)
{
    struct broodstock stock = {.fish = NULL};
    if (!pedigree_read(ledger, &stock.pedigree, err))
        return false;
    if (!spawning_list(ledger, &stock.spawnings, &stock.spawning_count, err)) {
        pedigree_done(&stock.pedigree);
        return false;
    }
    stock.fish = alloc_zeroed((size_t)stock.pedigree.count, sizeof *stock.fish);
    fill(&stock);
    *ret = stock;
    return true;
}

void broodstock_done(struct broodstock *stock)
{
    pedigree_done(&stock->pedigree);
    free(stock->spawnings);
    free(stock->fish);
}

bool broodstock_inbreeding(const struct broodstock *stock, int place, double *ret, struct err *err)
{
    struct kinship kinship;
    if (!kinship_make(stock->pedigree.fish, stock->pedigree.count, &place, 1, &kinship, err))
        return false;
    *ret = kinship_inbreeding(&kinship, place);
    kinship_done(&kinship);
    return true;
}
