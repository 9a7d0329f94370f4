/* The crosses that could be set, best first: those that were set before and those of available
 * parents that never were. What is expected of each comes from the parent model, which knows more
 * than the pair's own fish: a pair without young has a dam and a sire that have some.
 *
 * What is expected of crosses is worked out for all rows at once: one table of kinship, one fit,
 * one set of draws. The seed of the draws is fixed, so the same ledger always gives the same
 * page. */
#include "senbetsu/report/pairs.h"
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

enum { DRAWS = 10000, SEED = 20 };

/* A row while it is made. */
struct draft {
    struct pair_row row;
    unsigned sirings; /* bits of what its spawnings had */
    int last_season;  /* 0 = none was culled */
};

struct drafts {
    struct draft *list;
    size_t count, capacity;
};

static bool is_asked(const struct pairs_table *table, const char *variety)
{
    return table->fit.variety[0] == '\0' || strcmp(table->fit.variety, variety) == 0;
}

static struct draft *draft_of(const struct drafts *drafts, const char *dam, const char *sires)
{
    for (size_t i = 0; i < drafts->count; i++)
        if (strcmp(drafts->list[i].row.dam, dam) == 0 &&
            strcmp(drafts->list[i].row.sires, sires) == 0)
            return &drafts->list[i];
    return NULL;
}

static struct draft *add_draft(struct drafts *drafts, const char *dam, const char *sires,
                               const char *variety)
{
    drafts->list = alloc_room(drafts->list, drafts->count, &drafts->capacity, sizeof *drafts->list);
    struct draft *draft = &drafts->list[drafts->count++];
    *draft = (struct draft){
        .row = {.dam = dam, .sires = sires, .siring = "", .variety = variety, .later = 1}};
    return draft;
}

/* Spawnings come latest first. */
static void add_set_pairs(const struct pairs_table *table, struct drafts *drafts)
{
    for (size_t i = 0; i < table->spawning_count; i++) {
        const struct spawning *spawning = &table->spawnings[i];
        if (spawning->dam[0] == '\0' || spawning->sires[0] == '\0' ||
            !selection_takes_spawning(&table->of, spawning))
            continue;
        struct draft *draft = draft_of(drafts, spawning->dam, spawning->sires);
        if (draft == NULL)
            draft = add_draft(drafts, spawning->dam, spawning->sires, spawning->variety);
        draft->sirings |= 1U << spawning->siring;
    }
}

/* Is the parent of this variety, or has it been set for it? */
static bool serves(const struct pairs_table *table, const struct parent *parent,
                   const char *variety)
{
    bool serves = strcmp(parent->variety, variety) == 0;
    for (size_t i = 0; i < table->spawning_count && !serves; i++)
        serves = strcmp(table->spawnings[i].variety, variety) == 0 &&
                 (strcmp(table->spawnings[i].dam, parent->code) == 0 ||
                  code_in_list(table->spawnings[i].sires, parent->code));
    return serves;
}

/* The variety that young of these two would be counted as; NULL where there is none. */
static const char *common_variety(const struct pairs_table *table, const struct parent *dam,
                                  const struct parent *sire)
{
    const char *own[] = {table->fit.variety, dam->variety, sire->variety};
    for (size_t i = table->fit.variety[0] == '\0'; i < sizeof own / sizeof *own; i++)
        if (is_asked(table, own[i]) && serves(table, dam, own[i]) && serves(table, sire, own[i]))
            return own[i];
    for (size_t i = 0; i < table->spawning_count; i++) {
        const char *variety = table->spawnings[i].variety;
        if (is_asked(table, variety) && serves(table, dam, variety) && serves(table, sire, variety))
            return variety;
    }
    return NULL;
}

static void add_untried(const struct pairs_table *table, const struct cross *crosses, size_t count,
                        struct drafts *drafts)
{
    for (size_t i = 0; i < count; i++) {
        const struct parent *dam = &table->pedigree.parents[crosses[i].dam];
        const struct parent *sire = &table->pedigree.parents[crosses[i].sire];
        const char *variety = common_variety(table, dam, sire);
        if (variety == NULL || draft_of(drafts, dam->code, sire->code) != NULL)
            continue;
        struct draft *draft = add_draft(drafts, dam->code, sire->code, variety);
        draft->row.untried = true;
    }
}

static void count_family(const struct pairs_table *table, const struct family *family,
                         struct drafts *drafts)
{
    struct draft *draft = draft_of(drafts, family->lot->dam, family->lot->sires);
    if (draft == NULL)
        return;
    struct cull cull = parents_fit_cull(&table->fit, family);
    draft->row.cull = draft->row.spawnings == 0 ? cull : cull_sum(draft->row.cull, cull);
    draft->row.recovered |= cull.kept > cull.in;
    draft->row.spawnings++;
    draft->row.seasons += draft->last_season != family->season;
    draft->last_season = family->season;
}

/* Families come season by season. */
static void rate_pairs(const struct pairs_table *table, struct drafts *drafts)
{
    const struct families *families = &table->fit.families;
    for (size_t i = 0; i < families->count; i++)
        if (parents_fit_counts(&table->fit, &families->list[i]))
            count_family(table, &families->list[i], drafts);
    for (size_t i = 0; i < drafts->count; i++) {
        struct draft *draft = &drafts->list[i];
        struct pair_row *row = &draft->row;
        if (row->spawnings == 0)
            continue;
        row->has_rate = true;
        row->rate = rate_chained(&row->cull, 1);
        row->has_interval = rate_interval(&row->cull, 1, CONFIDENCE_LEVEL, &row->interval);
    }
}

/* Culled spawnings that the dam, or these very sires, had with anybody. */
static void count_parents(const struct pairs_table *table, struct pair_row *row)
{
    const struct families *families = &table->fit.families;
    for (size_t i = 0; i < families->count; i++)
        if (parents_fit_counts(&table->fit, &families->list[i])) {
            row->of_dam += strcmp(families->list[i].lot->dam, row->dam) == 0;
            row->of_sires += strcmp(families->list[i].lot->sires, row->sires) == 0;
        }
}

/* What was left after the harvest of all that was kept before, in spawnings of this variety. */
static double later_share(const struct pairs_table *table, const char *variety)
{
    const struct families *families = &table->fit.families;
    enum stage last = table->fit.last;
    int64_t before = 0, after = 0;
    for (size_t i = 0; i < families->count && last < STAGE_HARVEST; i++) {
        const struct family *family = &families->list[i];
        if (strcmp(family->lot->variety, variety) != 0 ||
            !family_went_through(family, last, STAGE_HARVEST))
            continue;
        before += family->culls[last].kept;
        after += family->culls[STAGE_HARVEST].kept;
    }
    return before > 0 ? (double)after / (double)before : 1;
}

static void add_parent(const struct pairs_table *table, const struct availability *available,
                       const char *code, bool as_dam, struct pair_row *row)
{
    int place = pedigree_place(&table->pedigree, code);
    const struct parent *parent = &table->pedigree.parents[place];
    row->available &= as_dam ? available[place].as_dam : available[place].as_sire;
    if (row->out == NULL && parent_is_out(parent))
        row->out = parent;
}

static void find_available(const struct pairs_table *table, struct drafts *drafts)
{
    struct availability *available = alloc_zeroed((size_t)table->pedigree.count, sizeof *available);
    char sire[CODE_SIZE];
    parents_available(&table->pedigree, table->spawnings, table->spawning_count, available);
    for (size_t i = 0; i < drafts->count; i++) {
        struct pair_row *row = &drafts->list[i].row;
        row->available = true;
        add_parent(table, available, row->dam, true, row);
        for (const char *list = row->sires; code_next(&list, sire);)
            add_parent(table, available, sire, false, row);
    }
    free(available);
}

static bool has_one_sire(const struct pair_row *row)
{
    return strchr(row->sires, ';') == NULL;
}

/* One table of kinship serves all rows. */
static bool find_inbreeding(const struct pedigree *pedigree, struct drafts *drafts, struct err *err)
{
    int *wanted = alloc_zeroed(2 * drafts->count, sizeof *wanted), count = 0;
    for (size_t i = 0; i < drafts->count; i++) {
        struct pair_row *row = &drafts->list[i].row;
        row->has_inbreeding = has_one_sire(row);
        if (!row->has_inbreeding)
            continue;
        wanted[count++] = pedigree_place(pedigree, row->dam);
        wanted[count++] = pedigree_place(pedigree, row->sires);
    }
    struct kinship kinship;
    bool made = kinship_make(pedigree->fish, pedigree->count, wanted, count, &kinship, err);
    for (size_t i = 0, place = 0; made && i < drafts->count; i++)
        if (drafts->list[i].row.has_inbreeding) {
            drafts->list[i].row.inbreeding =
                kinship_between(&kinship, wanted[place], wanted[place + 1]);
            place += 2;
        }
    if (made)
        kinship_done(&kinship);
    free(wanted);
    return made;
}

/* The row as the model sees it; false where it has nothing to say of its variety. */
static bool find_cross(const struct parents_fit *fit, const struct pair_row *row,
                       struct parent_cross *ret)
{
    struct text pair;
    int variety = level_find(&fit->names[KIND_VARIETY], row->variety);
    if (variety < 0 || !parent_model_knows(fit->model, variety))
        return false;
    text_init(&pair);
    pair_level(row->dam, row->sires, &pair);
    *ret = (struct parent_cross){.season = PARENT_TYPICAL,
                                 .variety = variety,
                                 .level = {level_find(&fit->names[PARENT_DAM], row->dam),
                                           level_find(&fit->names[PARENT_SIRE], row->sires),
                                           level_find(&fit->names[PARENT_PAIR], pair.data),
                                           PARENT_WITHOUT}};
    text_done(&pair);
    return true;
}

/* Those that are to be set, or those that are out: among the best is who is better than the others
 * that were asked for with it. */
static void predict(const struct parents_fit *fit, struct drafts *drafts, bool out)
{
    struct parent_cross *crosses = alloc_zeroed(drafts->count, sizeof *crosses);
    struct parent_prediction *predictions = alloc_zeroed(drafts->count, sizeof *predictions);
    struct pair_row **rows = alloc_zeroed(drafts->count, sizeof(struct pair_row *));
    int count = 0;
    for (size_t i = 0; i < drafts->count; i++) {
        struct pair_row *row = &drafts->list[i].row;
        if ((row->out != NULL) != out)
            continue;
        row->has_prediction = find_cross(fit, row, &crosses[count]);
        rows[count] = row;
        count += row->has_prediction;
    }
    parent_model_predict(fit->model, crosses, count, DRAWS, SEED, predictions);
    for (int i = 0; i < count; i++) {
        rows[i]->prediction = predictions[i];
        if (out)
            rows[i]->prediction.best = 0;
    }
    free(rows);
    free(crosses);
    free(predictions);
}

static int compare_rows(const void *left, const void *right)
{
    const struct pair_row *a = left, *b = right;
    int order = strcmp(a->variety, b->variety);
    if (order == 0)
        order = b->has_prediction - a->has_prediction;
    if (order == 0)
        order = (b->prediction.expected > a->prediction.expected) -
                (b->prediction.expected < a->prediction.expected);
    if (order == 0)
        order =
            (b->prediction.best > a->prediction.best) - (b->prediction.best < a->prediction.best);
    if (order == 0)
        order = strcmp(a->dam, b->dam);
    return order != 0 ? order : strcmp(a->sires, b->sires);
}

/* "single;pooled", on the heap. */
static char *siring_text(unsigned sirings)
{
    struct text text;
    text_init(&text);
    for (int i = 0; i < SIRING_COUNT; i++)
        if (sirings >> i & 1)
            text_addf(&text, "%s%s", text.length > 0 ? ";" : "", siring_terms[i].word);
    return text.data;
}

static void list_rows(struct pairs_table *table, const struct drafts *drafts)
{
    table->rows = alloc_zeroed(drafts->count, sizeof *table->rows);
    table->sirings = alloc_zeroed(drafts->count, sizeof *table->sirings);
    for (size_t i = 0; i < drafts->count; i++) {
        table->rows[i] = drafts->list[i].row;
        table->rows[i].siring = table->sirings[i] = siring_text(drafts->list[i].sirings);
    }
    qsort(table->rows, drafts->count, sizeof *table->rows, compare_rows);
    table->count = drafts->count;
}

static bool make(struct pairs_table *table, struct err *err)
{
    struct drafts drafts = {.list = NULL};
    struct cross *crosses;
    size_t cross_count;
    crosses_make(&table->pedigree, table->spawnings, table->spawning_count, &crosses, &cross_count);
    add_set_pairs(table, &drafts);
    if (table->of.season == 0 && table->of.spawning[0] == '\0')
        add_untried(table, crosses, cross_count, &drafts);
    free(crosses);
    bool done = find_inbreeding(&table->pedigree, &drafts, err);
    rate_pairs(table, &drafts);
    for (size_t i = 0; i < drafts.count; i++) {
        count_parents(table, &drafts.list[i].row);
        drafts.list[i].row.later = later_share(table, drafts.list[i].row.variety);
    }
    find_available(table, &drafts);
    for (int out = 0; table->fit.model != NULL && out <= 1; out++)
        predict(&table->fit, &drafts, out);
    list_rows(table, &drafts);
    free(drafts.list);
    return done;
}

bool pairs_make(struct ledger *ledger, int stage, const struct selection *of, int64_t fry,
                struct pairs_table *ret, struct err *err)
{
    *ret = (struct pairs_table){.fry = fry};
    if (of != NULL)
        ret->of = *of;
    if (!parents_fit_make(ledger, stage, of, &ret->fit, err))
        return false;
    const struct parents_fit *fitted = &ret->fit;
    ret->first = fitted->first;
    ret->last = fitted->last;
    ret->variety = fitted->variety;
    ret->notes = fitted->notes;
    ret->no_model = ret->fit.no_model.text;
    if (pedigree_read(ledger, &ret->pedigree, err) &&
        spawning_list(ledger, &ret->spawnings, &ret->spawning_count, err) && make(ret, err))
        return true;
    pairs_done(ret);
    return false;
}

void pairs_done(struct pairs_table *table)
{
    for (size_t i = 0; i < table->count; i++)
        free(table->sirings[i]);
    free(table->sirings);
    free(table->rows);
    free(table->spawnings);
    pedigree_done(&table->pedigree);
    parents_fit_done(&table->fit);
}
