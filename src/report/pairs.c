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

enum { DRAWS = 10000, SEED = 20 };

/* A row while it is made. */
struct draft {
    struct pair_row row;
    unsigned sirings;    /* bits of what its spawnings had */
    int last_season;     /* 0 = none was culled */
    struct draft *other; /* set with the same dam; may be NULL */
};

struct drafts {
    struct draft *list;
    size_t count;
    struct draft **of_dam; /* [fish of the pedigree] the pairs that were set with it, one of them */
};

/* The pair, if it was set. */
static struct draft *draft_of(const struct drafts *drafts, int dam, const char *sires)
{
    struct draft *draft = drafts->of_dam[dam];
    while (draft != NULL && strcmp(draft->row.sires, sires) != 0)
        draft = draft->other;
    return draft;
}

static struct draft *add_draft(struct drafts *drafts, const char *dam, const char *sires,
                               const char *variety)
{
    struct draft *draft = &drafts->list[drafts->count++];
    draft->row = (struct pair_row){.dam = dam, .sires = sires, .siring = "", .variety = variety};
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
        int dam = pedigree_place(&table->pedigree, spawning->dam);
        struct draft *draft = draft_of(drafts, dam, spawning->sires);
        if (draft == NULL) {
            draft = add_draft(drafts, spawning->dam, spawning->sires, spawning->variety);
            draft->other = drafts->of_dam[dam];
            drafts->of_dam[dam] = draft;
        }
        draft->sirings |= 1U << spawning->siring;
    }
}

static void add_untried(const struct pairs_table *table, const struct cross *crosses, size_t count,
                        struct drafts *drafts)
{
    for (size_t i = 0; i < count; i++) {
        const char *dam = table->pedigree.parents[crosses[i].dam].code;
        const char *sire = table->pedigree.parents[crosses[i].sire].code;
        if (draft_of(drafts, crosses[i].dam, sire) == NULL)
            add_draft(drafts, dam, sire, crosses[i].variety)->row.untried = true;
    }
}

static void count_family(const struct pairs_table *table, const struct family *family,
                         struct drafts *drafts)
{
    int dam = pedigree_place(&table->pedigree, family->lot->dam);
    struct draft *draft = dam == UNKNOWN_PARENT ? NULL : draft_of(drafts, dam, family->lot->sires);
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

static int compare_texts(const void *left, const void *right)
{
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

/* How many of the sorted texts are this one. */
static int occurrences(const char *const *texts, size_t count, const char *text)
{
    const char *const *first = bsearch(&text, texts, count, sizeof *texts, compare_texts);
    const char *const *end = first;
    if (first == NULL)
        return 0;
    while (first > texts && strcmp(first[-1], text) == 0)
        first--;
    while (end < texts + count && strcmp(*end, text) == 0)
        end++;
    return (int)(end - first);
}

/* Culled spawnings that the dam, or these very sires, had with anybody. */
static void count_parents(const struct pairs_table *table, struct drafts *drafts)
{
    const struct families *families = &table->fit.families;
    const char **dams = alloc_zeroed(families->count + 1, sizeof *dams);
    const char **sires = alloc_zeroed(families->count + 1, sizeof *sires);
    size_t count = 0;
    for (size_t i = 0; i < families->count; i++)
        if (parents_fit_counts(&table->fit, &families->list[i])) {
            dams[count] = families->list[i].lot->dam;
            sires[count++] = families->list[i].lot->sires;
        }
    qsort(dams, count, sizeof *dams, compare_texts);
    qsort(sires, count, sizeof *sires, compare_texts);
    for (size_t i = 0; i < drafts->count; i++) {
        struct pair_row *row = &drafts->list[i].row;
        row->of_dam = occurrences(dams, count, row->dam);
        row->of_sires = occurrences(sires, count, row->sires);
    }
    free(dams);
    free(sires);
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

/* Rows of the same variety stand together. */
static void find_later(struct pairs_table *table)
{
    for (size_t i = 0; i < table->count; i++) {
        struct pair_row *row = &table->rows[i];
        row->later = i > 0 && strcmp(row->variety, row[-1].variety) == 0
                         ? row[-1].later
                         : later_share(table, row->variety);
    }
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
static bool predict(const struct parents_fit *fit, struct drafts *drafts, bool out,
                    const struct watch *watch)
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
    bool done =
        parent_model_predict(fit->model, crosses, count, out ? 0 : DRAWS, SEED, watch, predictions);
    for (int i = 0; i < count; i++)
        rows[i]->prediction = predictions[i];
    free(rows);
    free(crosses);
    free(predictions);
    return done;
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

static bool give_up(struct err *err)
{
    return err_set(err, ERR_ABSENT, "The pairs were left before they had been worked out.");
}

static bool make(struct pairs_table *table, const struct watch *watch, struct err *err)
{
    struct cross *crosses = NULL;
    size_t cross_count = 0;
    if (table->of.season == 0 && table->of.spawning[0] == '\0')
        crosses_make(&table->pedigree, table->spawnings, table->spawning_count, table->fit.variety,
                     &crosses, &cross_count);
    struct drafts drafts = {
        .list = alloc_zeroed(table->spawning_count + cross_count, sizeof *drafts.list),
        .of_dam = alloc_zeroed((size_t)table->pedigree.count, sizeof(struct draft *))};
    add_set_pairs(table, &drafts);
    add_untried(table, crosses, cross_count, &drafts);
    free(crosses);
    bool done = find_inbreeding(&table->pedigree, &drafts, err);
    rate_pairs(table, &drafts);
    count_parents(table, &drafts);
    find_available(table, &drafts);
    for (int out = 0; done && table->fit.model != NULL && out <= 1; out++)
        done = predict(&table->fit, &drafts, out, watch) || give_up(err);
    list_rows(table, &drafts);
    find_later(table);
    free(drafts.of_dam);
    free(drafts.list);
    return done;
}

bool pairs_make(struct ledger *ledger, int stage, const struct selection *of, int64_t fry,
                const struct watch *watch, struct pairs_table *ret, struct err *err)
{
    enum { MANY = 1000 }; /* of which a fit takes long */
    *ret = (struct pairs_table){.fry = fry};
    if (of != NULL)
        ret->of = *of;
    if (!pedigree_read(ledger, &ret->pedigree, err))
        return false;
    if (!spawning_list(ledger, &ret->spawnings, &ret->spawning_count, err)) {
        pedigree_done(&ret->pedigree);
        return false;
    }
    bool goes_on = ret->spawning_count < MANY ||
                   watch_tell(watch, "fitting the parent model to all culls", 0, 0);
    if (!(goes_on || give_up(err)) || !parents_fit_make(ledger, stage, of, &ret->fit, err)) {
        free(ret->spawnings);
        pedigree_done(&ret->pedigree);
        return false;
    }
    const struct parents_fit *fitted = &ret->fit;
    ret->first = fitted->first;
    ret->last = fitted->last;
    ret->variety = fitted->variety;
    ret->notes = fitted->notes;
    ret->no_model = ret->fit.no_model.text;
    if (make(ret, watch, err))
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
