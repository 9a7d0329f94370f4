/* Families, the young of one spawning each, are the rows of rates by spawning read once more by
 * cull; a family is the smallest group of which parents are known, so pairs and parents are
 * compared by it. Here too is how a pair is written and found. */
#include "senbetsu/report/families.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>
#include <string.h>

static void name_families(struct families *families)
{
    const struct rate_keys *spawnings = &families->rates.keys;
    for (size_t i = 0; i < families->count; i++)
        families->list[i] = (struct family){.spawning = spawnings->list[i].text,
                                            .season = spawnings->list[i].season,
                                            .pair = NO_KEY};
    for (size_t lot = 0; lot < families->rates.lot_count; lot++)
        if (spawnings->of[lot] != NO_KEY) {
            families->list[spawnings->of[lot]].pair = families->pairs.of[lot];
            families->list[spawnings->of[lot]].lot = &families->rates.lots[lot];
        }
}

/* Rows stand in order of the families; those of chained rates are passed over. */
static void add_culls(struct families *families)
{
    struct family *family = families->list;
    for (size_t i = 0; i < families->rates.count; i++) {
        const struct rate_row *row = &families->rates.rows[i];
        while (family->spawning != row->key)
            family++;
        if (row->first != row->last)
            continue;
        family->culls[row->first] = row->cull;
        family->stages |= 1U << row->first;
    }
}

bool families_make(struct ledger *ledger, const struct selection *of, struct families *ret,
                   struct err *err)
{
    struct families families;
    if (!rates_make(ledger, BY_SPAWNING, -1, of, &families.rates, err))
        return false;
    rate_keys_init(&families.pairs, BY_PAIR, NULL, families.rates.lots, families.rates.lot_count);
    families.count = families.rates.keys.count;
    families.list = alloc_zeroed(families.count, sizeof *families.list);
    name_families(&families);
    add_culls(&families);
    *ret = families;
    return true;
}

void families_done(struct families *families)
{
    free(families->list);
    rate_keys_done(&families->pairs);
    rates_done(&families->rates);
}

bool family_went_through(const struct family *family, enum stage first, enum stage last)
{
    unsigned both = 1U << first | 1U << last;
    return (family->stages & both) == both && family->culls[first].in > 0 &&
           (first == last || !cull_at_work(&family->culls[last]));
}

enum { NEAREST = 3 };

/* A dam, a plus sign and at least one sire; none of the codes is empty. */
static bool is_pair(const char *text)
{
    size_t dam = strcspn(text, "+;");
    if (dam == 0 || text[dam] != '+' || strchr(text + dam + 1, '+') != NULL)
        return false;
    for (const char *sire = text + dam + 1;; sire++) {
        size_t length = strcspn(sire, ";");
        if (length == 0)
            return false;
        sire += length;
        if (*sire == '\0')
            return true;
    }
}

static int compare_codes(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* As the ledger's pairs are written: sires in order of code. */
static void put_in_order(const char *text, struct text *out)
{
    char *codes = alloc_text(text);
    char **sires = alloc_zeroed(strlen(text), sizeof *sires);
    char *rest = NULL;
    size_t count = 0;
    text_addf(out, "%s+", strtok_r(codes, "+", &rest));
    for (char *sire; (sire = strtok_r(NULL, "+;", &rest)) != NULL;)
        sires[count++] = sire;
    qsort(sires, count, sizeof *sires, compare_codes);
    for (size_t i = 0; i < count; i++)
        text_addf(out, "%s%s", i > 0 ? ";" : "", sires[i]);
    free(sires);
    free(codes);
}

struct near_pair {
    const char *text;
    size_t distance;
};

static int compare_distances(const void *left, const void *right)
{
    const struct near_pair *a = left;
    const struct near_pair *b = right;
    if (a->distance != b->distance)
        return a->distance < b->distance ? -1 : 1;
    return strcmp(a->text, b->text);
}

/* "KD1+KS1, KD2+KS1 and KD2+KS2" */
static void add_nearest(const struct rate_keys *pairs, const char *text, struct text *out)
{
    struct near_pair *near = alloc_zeroed(pairs->count, sizeof *near);
    for (size_t i = 0; i < pairs->count; i++)
        near[i] = (struct near_pair){pairs->list[i].text, text_distance(pairs->list[i].text, text)};
    qsort(near, pairs->count, sizeof *near, compare_distances);
    size_t count = pairs->count < NEAREST ? pairs->count : NEAREST;
    for (size_t i = 0; i < count; i++)
        text_addf(out, "%s%s", i == 0 ? "" : i + 1 < count ? ", " : " and ", near[i].text);
    free(near);
}

static bool refuse(const struct rate_keys *pairs, const char *text, struct err *err)
{
    if (pairs->count == 0)
        return err_set(err, ERR_ABSENT, "No spawning in the ledger has both a dam and a sire.");
    struct text nearest;
    text_init(&nearest);
    add_nearest(pairs, text, &nearest);
    err_set(err, ERR_ABSENT, "No spawning in the ledger is of %s; the nearest: %s.", text,
            nearest.data);
    text_done(&nearest);
    return false;
}

static int place_of(const struct rate_keys *pairs, const char *text)
{
    for (size_t i = 0; i < pairs->count; i++)
        if (strcmp(pairs->list[i].text, text) == 0)
            return (int)i;
    return NO_KEY;
}

bool pair_find(const struct rate_keys *pairs, const char *text, int *ret, struct err *err)
{
    if (!is_pair(text))
        return err_set(
            err, ERR_USAGE,
            "\"%s\" is not a pair: write DAM+SIRE, or \"DAM+SIRE;SIRE\" of a group of males.",
            text);
    struct text ordered;
    text_init(&ordered);
    put_in_order(text, &ordered);
    int place = place_of(pairs, ordered.data);
    bool found = place != NO_KEY || refuse(pairs, ordered.data, err);
    if (found)
        *ret = place;
    text_done(&ordered);
    return found;
}

static const char *known(const char *code)
{
    return code[0] != '\0' ? code : "?";
}

const char *pair_text(const struct spawning *spawning, char *buffer, size_t size)
{
    struct text out;
    text_init(&out);
    if (spawning->dam[0] != '\0' || spawning->sires[0] != '\0')
        text_addf(&out, "%s × %s", known(spawning->dam), known(spawning->sires));
    if (strchr(spawning->sires, ';') != NULL)
        text_addf(&out, " (%s)", siring_terms[spawning->siring].word);
    text_copy(buffer, size, out.data);
    text_done(&out);
    return buffer;
}

const char *round_whose(const struct round *round)
{
    return round->spawning[0] != '\0' ? round->spawning : "mixed";
}
