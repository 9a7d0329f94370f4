/* Who could be set, with whom, and as what variety their young would be counted. The ledger is gone
 * through once: a large farm has more crosses than anything could be looked up for each of. */
#include "senbetsu/report/crosses.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

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
    if (parent->state != BROOD_UNSAID)
        return !parent_is_out(parent);
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

/* The varieties that were asked for, and which parents serve them: are of it, or were set for it.
 */
struct varieties {
    const char *asked;  /* "" = all */
    const char **names; /* each once: those of spawnings, as they come, then those of parents */
    int count;
    int parents;
    int *own;     /* [parents] the place of its variety; as `count` = not asked for */
    bool *serves; /* [count][parents] */
};

static int variety_place(const struct varieties *varieties, const char *name)
{
    int place = 0;
    while (place < varieties->count && strcmp(varieties->names[place], name) != 0)
        place++;
    return place;
}

static void name_variety(struct varieties *varieties, const char *name)
{
    if (varieties->asked[0] != '\0' && strcmp(name, varieties->asked) != 0)
        return;
    int place = variety_place(varieties, name);
    varieties->names[place] = name;
    varieties->count += place == varieties->count;
}

static void note_serves(struct varieties *varieties, int variety, int parent)
{
    if (variety < varieties->count && parent != UNKNOWN_PARENT)
        varieties->serves[(size_t)variety * (size_t)varieties->parents + (size_t)parent] = true;
}

static void note_variety(const struct pedigree *pedigree, const struct spawning *spawning,
                         struct varieties *varieties)
{
    char sire[CODE_SIZE];
    int variety = variety_place(varieties, spawning->variety);
    note_serves(varieties, variety, pedigree_place(pedigree, spawning->dam));
    for (const char *sires = spawning->sires; code_next(&sires, sire);)
        note_serves(varieties, variety, pedigree_place(pedigree, sire));
}

static void varieties_init(struct varieties *varieties, const struct pedigree *pedigree,
                           const struct spawning *spawnings, size_t spawning_count,
                           const char *asked)
{
    size_t parents = (size_t)pedigree->count;
    *varieties = (struct varieties){.asked = asked, .parents = pedigree->count};
    varieties->names = alloc_zeroed(spawning_count + parents, sizeof *varieties->names);
    varieties->own = alloc_zeroed(parents, sizeof *varieties->own);
    for (size_t i = 0; i < spawning_count; i++)
        name_variety(varieties, spawnings[i].variety);
    for (size_t i = 0; i < parents; i++)
        name_variety(varieties, pedigree->parents[i].variety);
    varieties->serves = alloc_zeroed((size_t)varieties->count * parents, sizeof(bool));
    for (int i = 0; i < pedigree->count; i++) {
        varieties->own[i] = variety_place(varieties, pedigree->parents[i].variety);
        note_serves(varieties, varieties->own[i], i);
    }
    for (size_t i = 0; i < spawning_count; i++)
        note_variety(pedigree, &spawnings[i], varieties);
}

static void varieties_done(struct varieties *varieties)
{
    free(varieties->names);
    free(varieties->own);
    free(varieties->serves);
}

static bool both_serve(const struct varieties *varieties, int variety, int dam, int sire)
{
    const bool *serves = &varieties->serves[(size_t)variety * (size_t)varieties->parents];
    return variety < varieties->count && serves[dam] && serves[sire];
}

/* The dam's, else the sire's, else the first that both have been set for; NULL = none. */
static const char *common_variety(const struct varieties *varieties, int dam, int sire)
{
    int variety = varieties->own[dam];
    if (!both_serve(varieties, variety, dam, sire))
        variety = varieties->own[sire];
    if (!both_serve(varieties, variety, dam, sire))
        variety = 0;
    while (variety < varieties->count && !both_serve(varieties, variety, dam, sire))
        variety++;
    return variety < varieties->count ? varieties->names[variety] : NULL;
}

void crosses_make(const struct pedigree *pedigree, const struct spawning *spawnings,
                  size_t spawning_count, const char *variety, struct cross **ret, size_t *ret_count)
{
    struct availability *available = alloc_zeroed((size_t)pedigree->count, sizeof *available);
    struct varieties varieties;
    struct cross *crosses = NULL;
    size_t count = 0, capacity = 0;
    parents_available(pedigree, spawnings, spawning_count, available);
    varieties_init(&varieties, pedigree, spawnings, spawning_count, variety);
    for (int dam = 0; dam < pedigree->count; dam++)
        for (int sire = 0; sire < pedigree->count; sire++) {
            const char *common =
                can_be_crossed(available, dam, sire) ? common_variety(&varieties, dam, sire) : NULL;
            if (common == NULL)
                continue;
            crosses = alloc_room(crosses, count, &capacity, sizeof *crosses);
            crosses[count++] = (struct cross){dam, sire, common};
        }
    varieties_done(&varieties);
    free(available);
    *ret = crosses;
    *ret_count = count;
}
