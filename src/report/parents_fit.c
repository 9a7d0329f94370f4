/* Turns families into rows of the parent model: chooses the culls to compare by, numbers the levels
 * (parents, pairs, spawnings, seasons, varieties) and keeps their names, since the model knows
 * numbers alone. */
#include "senbetsu/report/parents_fit.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

static int compare_texts(const void *left, const void *right)
{
    return strcmp(*(char *const *)left, *(char *const *)right);
}

int level_find(const struct level_names *names, const char *name)
{
    if (names->count == 0)
        return -1;
    char *const *found =
        bsearch(&name, names->list, (size_t)names->count, sizeof *names->list, compare_texts);
    return found == NULL ? -1 : (int)(found - names->list);
}

void pair_level(const char *dam, const char *sires, struct text *out)
{
    text_addf(out, "%s+%s", dam, sires);
}

bool parents_fit_counts(const struct parents_fit *fit, const struct family *family)
{
    return family_went_through(family, fit->first, fit->last) &&
           (fit->variety[0] == '\0' || strcmp(family->lot->variety, fit->variety) == 0);
}

struct cull parents_fit_cull(const struct parents_fit *fit, const struct family *family)
{
    return cull_span(&family->culls[fit->first], &family->culls[fit->last]);
}

/* The name of the level that a family has; "" = it is not known. */
static void name_of(const struct family *family, int kind, struct text *out)
{
    const struct lot_origin *lot = family->lot;
    bool has_pair = lot->dam[0] != '\0' && lot->sires[0] != '\0';
    text_clear(out);
    if (kind == PARENT_DAM)
        text_add(out, lot->dam);
    else if (kind == PARENT_SIRE)
        text_add(out, lot->sires);
    else if (kind == PARENT_PAIR && has_pair)
        pair_level(lot->dam, lot->sires, out);
    else if (kind == PARENT_SPAWNING)
        text_add(out, family->spawning);
    else if (kind == KIND_SEASON)
        text_addf(out, "%d", family->season);
    else if (kind == KIND_VARIETY)
        text_add(out, lot->variety);
}

/* How many families went all the way. */
static size_t count_families(struct parents_fit *fit, int first, int last)
{
    size_t count = 0;
    fit->first = (enum stage)first;
    fit->last = (enum stage)last;
    for (size_t i = 0; i < fit->families.count; i++)
        count += parents_fit_counts(fit, &fit->families.list[i]) &&
                 !cull_at_work(&fit->families.list[i].culls[last]);
    return count;
}

/* The latest cull that at least half as many have come to as to any. */
static int choose_last(struct parents_fit *fit)
{
    size_t counts[STAGE_COUNT], most = 0;
    for (int stage = STAGE_FIRST; stage < STAGE_COUNT; stage++) {
        counts[stage] = count_families(fit, stage, stage);
        most = counts[stage] > most ? counts[stage] : most;
    }
    if (most == 0)
        return count_families(fit, STAGE_BLACK, STAGE_BLACK) > 0 ? STAGE_BLACK : STAGE_FIRST;
    int last = STAGE_COUNT - 1;
    while (2 * counts[last] < most)
        last--;
    return last;
}

static void choose_stages(struct parents_fit *fit)
{
    int last = choose_last(fit), first = last;
    size_t most = 0;
    for (int begin = STAGE_FIRST; begin <= last; begin++) {
        size_t count = count_families(fit, begin, last);
        if (count > most) {
            most = count;
            first = begin;
        }
    }
    fit->first = (enum stage)first;
    fit->last = (enum stage)last;
}

/* Counts the family, or names it as left out. Returns whether it is a row of the model. */
static bool take(struct parents_fit *fit, const struct family *family)
{
    struct fit_notes *notes = &fit->notes;
    struct cull cull = parents_fit_cull(fit, family);
    if (cull.kept > cull.in) {
        text_addf(&fit->recovered, "%s%s", fit->recovered.length > 0 ? ", " : "", family->spawning);
        return false;
    }
    notes->spawnings++;
    notes->estimated += cull.estimated;
    notes->errors_unknown += cull.error_unknown;
    notes->largest_cv = cull.in_cv > notes->largest_cv ? cull.in_cv : notes->largest_cv;
    notes->largest_cv = cull.kept_cv > notes->largest_cv ? cull.kept_cv : notes->largest_cv;
    return true;
}

static size_t take_families(struct parents_fit *fit, struct family *ret)
{
    size_t count = 0;
    for (size_t i = 0; i < fit->families.count; i++) {
        const struct family *family = &fit->families.list[i];
        if (parents_fit_counts(fit, family) && take(fit, family))
            ret[count++] = *family;
    }
    return count;
}

/* Sorted, each once. A variety that is not known is a variety all the same. */
static void collect_names(struct parents_fit *fit, int kind, const struct family *families,
                          size_t count)
{
    struct level_names *names = &fit->names[kind];
    struct text name;
    text_init(&name);
    char **list = alloc_zeroed(count, sizeof *list);
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        name_of(&families[i], kind, &name);
        if (name.length > 0 || kind == KIND_VARIETY)
            list[found++] = alloc_text(name.data);
    }
    qsort(list, found, sizeof *list, compare_texts);
    names->list = list;
    for (size_t i = 0; i < found; i++)
        if (names->count > 0 && strcmp(list[i], list[names->count - 1]) == 0)
            free(list[i]);
        else
            list[names->count++] = list[i];
    text_done(&name);
}

static struct parent_row row_of(const struct parents_fit *fit, const struct family *family)
{
    int levels[KIND_COUNT];
    struct cull cull = parents_fit_cull(fit, family);
    struct parent_row row = {.n = cull.in, .kept = cull.kept};
    struct text name;
    text_init(&name);
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        name_of(family, kind, &name);
        levels[kind] = level_find(&fit->names[kind], name.data);
    }
    text_done(&name);
    for (int term = 0; term < PARENT_TERMS; term++)
        row.level[term] = levels[term] >= 0 ? levels[term] : PARENT_UNKNOWN;
    row.season = levels[KIND_SEASON];
    row.variety = levels[KIND_VARIETY];
    return row;
}

static void fit_rows(struct parents_fit *fit, const struct family *families, size_t count)
{
    char stages[STAGE_RANGE_SIZE];
    struct parent_row *rows = alloc_zeroed(count, sizeof *rows);
    for (int kind = 0; kind < KIND_COUNT; kind++)
        collect_names(fit, kind, families, count);
    for (size_t i = 0; i < count; i++)
        rows[i] = row_of(fit, &families[i]);
    struct parent_data data = {
        rows, count, fit->names[KIND_SEASON].count, fit->names[KIND_VARIETY].count, {0}};
    for (int term = 0; term < PARENT_TERMS; term++)
        data.levels[term] = fit->names[term].count;
    if (count == 0)
        err_set(
            &fit->no_model, ERR_ABSENT,
            "No spawning%s%s has both numbers of the %s cull yet: how many fish went in and how "
            "many were kept.",
            fit->variety[0] != '\0' ? " of " : "", fit->variety,
            stage_range(fit->first, fit->last, stages));
    else
        parent_model_new(&data, PARENT_ALL_TERMS, &fit->model, &fit->no_model);
    free(rows);
}

bool parents_fit_make(struct ledger *ledger, int stage, const struct selection *of,
                      struct parents_fit *ret, struct err *err)
{
    struct families families;
    if (!families_make(ledger, of, &families, err))
        return false;
    *ret = (struct parents_fit){.families = families};
    text_copy(ret->variety, sizeof ret->variety, of == NULL ? "" : of->variety);
    text_init(&ret->recovered);
    if (stage < 0)
        choose_stages(ret);
    else
        ret->first = ret->last = (enum stage)stage;
    struct family *taken = alloc_zeroed(families.count, sizeof *taken);
    fit_rows(ret, taken, take_families(ret, taken));
    free(taken);
    ret->notes.recovered = ret->recovered.data;
    return true;
}

void parents_fit_done(struct parents_fit *fit)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        for (int i = 0; i < fit->names[kind].count; i++)
            free(fit->names[kind].list[i]);
        free(fit->names[kind].list);
    }
    text_done(&fit->recovered);
    parent_model_free(fit->model);
    families_done(&fit->families);
}
