#include "senbetsu/report/crosses.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

/* What the ledger has of a fish as a parent. */
struct service {
    bool was_dam, was_sire;
    bool has_offspring; /* among the parents */
    int last_season;    /* 0 = never set */
};

static void note_set(struct service *services, int place, bool as_dam, int season)
{
    if (place == UNKNOWN_PARENT)
        return;
    struct service *service = &services[place];
    service->was_dam |= as_dam;
    service->was_sire |= !as_dam;
    if (service->last_season < season)
        service->last_season = season;
}

static void note_spawning(const struct pedigree *pedigree, const struct spawning *spawning,
                          struct service *services)
{
    char sire[CODE_SIZE];
    const char *sires = spawning->sires;
    note_set(services, pedigree_place(pedigree, spawning->dam), true, spawning->season);
    while (code_next(&sires, sire))
        note_set(services, pedigree_place(pedigree, sire), false, spawning->season);
}

static void note_offspring(const struct pedigree *pedigree, struct service *services)
{
    for (int i = 0; i < pedigree->count; i++) {
        int dam = pedigree->fish[i].dam, sire = pedigree->fish[i].sire;
        if (dam != UNKNOWN_PARENT)
            services[dam].was_dam = services[dam].has_offspring = true;
        if (sire != UNKNOWN_PARENT)
            services[sire].was_sire = services[sire].has_offspring = true;
    }
}

static bool is_available(const struct parent *parent, const struct service *service, int season)
{
    if (service->last_season > 0)
        return service->last_season > season - SEASONS_AVAILABLE;
    return !service->has_offspring && (parent->born == 0 || parent->born >= season - YEARS_UNTRIED);
}

static struct availability find_roles(const struct parent *parent, const struct service *service)
{
    bool open = parent->sex == SEX_UNKNOWN && service->was_dam == service->was_sire;
    return (struct availability){
        .as_dam =
            open || parent->sex == SEX_FEMALE || (parent->sex == SEX_UNKNOWN && service->was_dam),
        .as_sire =
            open || parent->sex == SEX_MALE || (parent->sex == SEX_UNKNOWN && service->was_sire),
    };
}

void parents_available(const struct pedigree *pedigree, const struct spawning *spawnings,
                       size_t spawning_count, struct availability *ret)
{
    struct service *services = alloc_zeroed((size_t)pedigree->count, sizeof *services);
    int season = 0;
    for (size_t i = 0; i < spawning_count; i++) {
        note_spawning(pedigree, &spawnings[i], services);
        season = spawnings[i].season > season ? spawnings[i].season : season;
    }
    note_offspring(pedigree, services);
    for (int i = 0; i < pedigree->count; i++)
        ret[i] = is_available(&pedigree->parents[i], &services[i], season)
                     ? find_roles(&pedigree->parents[i], &services[i])
                     : (struct availability){.as_dam = false};
    free(services);
}

/* A fish that could be either is no partner of its own. */
static bool can_be_crossed(const struct availability *available, int dam, int sire)
{
    bool both_open = available[dam].as_sire && available[sire].as_dam;
    return available[dam].as_dam && available[sire].as_sire && (!both_open || dam < sire);
}

void crosses_make(const struct pedigree *pedigree, const struct spawning *spawnings,
                  size_t spawning_count, struct cross **ret, size_t *ret_count)
{
    struct availability *available = alloc_zeroed((size_t)pedigree->count, sizeof *available);
    struct cross *crosses = NULL;
    size_t count = 0, capacity = 0;
    parents_available(pedigree, spawnings, spawning_count, available);
    for (int dam = 0; dam < pedigree->count; dam++)
        for (int sire = 0; sire < pedigree->count; sire++) {
            if (!can_be_crossed(available, dam, sire))
                continue;
            crosses = alloc_room(crosses, count, &capacity, sizeof *crosses);
            crosses[count++] = (struct cross){dam, sire};
        }
    free(available);
    *ret = crosses;
    *ret_count = count;
}
