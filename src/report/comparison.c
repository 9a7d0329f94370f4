/* Compares two pairs season by season, because a season's weather, food and judging are the same
 * for both; the seasons are joined by the methods of stats/two_by_two.h. Only seasons in which both
 * had fish count, and the culls are chosen so that the way is as long as both went.
 *
 * Summing the fish of all seasons first could turn the result round (Simpson's paradox). Spawnings
 * of one pair differ among themselves as well, which the tests do not see; it is measured beside
 * them. */
#include "senbetsu/report/comparison.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/report/families.h"
#include "senbetsu/stats/overdispersion.h"

#include <math.h>
#include <stdlib.h>

/* The families of both pairs, by season. */
struct making {
    struct family *families;
    size_t count;
    int pairs[2];
    enum stage first, last;
};

static int pair_of(const struct making *making, const struct family *family)
{
    return family->pair == making->pairs[0] ? 0 : 1;
}

static void gather(struct making *making, const struct families *families)
{
    making->families = alloc_zeroed(families->count, sizeof *making->families);
    for (size_t i = 0; i < families->count; i++) {
        const struct family *family = &families->list[i];
        if (family->pair == making->pairs[0] || family->pair == making->pairs[1])
            making->families[making->count++] = *family;
    }
}

/* Has the pair fish of this season that were counted? */
static bool has_season(const struct making *making, int pair, int season)
{
    for (size_t i = 0; i < making->count; i++)
        if (making->families[i].season == season && pair_of(making, &making->families[i]) == pair &&
            family_went_through(&making->families[i], making->first, making->last))
            return true;
    return false;
}

static bool counts(const struct making *making, const struct family *family)
{
    return family_went_through(family, making->first, making->last) &&
           has_season(making, 0, family->season) && has_season(making, 1, family->season);
}

static bool try_stages(struct making *making, int first, int last)
{
    making->first = (enum stage)first;
    making->last = (enum stage)last;
    for (size_t i = 0; i < making->count; i++)
        if (counts(making, &making->families[i]))
            return true;
    return false;
}

/* The way as far as both went, from as early as both were counted; a single cull, which may be at
 * work, only where there is no way over several. Black fry have a starting point of their own. */
static bool choose_stages(struct making *making)
{
    for (int last = STAGE_COUNT - 1; last > STAGE_BLACK; last--)
        for (int first = STAGE_BLACK + 1; first < last; first++)
            if (try_stages(making, first, last))
                return true;
    for (int stage = STAGE_COUNT - 1; stage >= STAGE_BLACK; stage--)
        if (try_stages(making, stage, stage))
            return true;
    return false;
}

static void add_fish(struct two_groups *fish, int pair, int64_t in, int64_t kept)
{
    *(pair == 0 ? &fish->in_a : &fish->in_b) += in;
    *(pair == 0 ? &fish->kept_a : &fish->kept_b) += kept;
}

static void compute_season(struct compare_row *row)
{
    const struct two_groups *fish = &row->fish;
    row->recovered = fish->kept_a > fish->in_a || fish->kept_b > fish->in_b;
    row->difference = (struct estimate){.known = true, .value = share_difference(fish)};
    if (row->recovered)
        return;
    row->difference.has_interval = true;
    row->difference.interval = newcombe_interval(fish, CONFIDENCE_LEVEL);
    row->odds_ratio = mantel_haenszel_odds_ratio(fish, 1, CONFIDENCE_LEVEL);
    row->equal = (struct significance){.known = true, .p = fisher_p(fish)};
}

/* The row of this season; families come in order of season. */
static struct compare_row *row_of(struct comparison *comparison, int season)
{
    size_t *count = &comparison->count;
    if (*count == 0 || comparison->rows[*count - 1].season != season)
        comparison->rows[(*count)++].season = season;
    return &comparison->rows[*count - 1];
}

static void sum_seasons(const struct making *making, struct comparison *comparison)
{
    for (size_t i = 0; i < making->count; i++) {
        const struct family *family = &making->families[i];
        if (!counts(making, family))
            continue;
        add_fish(&row_of(comparison, family->season)->fish, pair_of(making, family),
                 family->culls[making->first].in, family->culls[making->last].kept);
        comparison->estimated |=
            family->culls[making->first].estimated || family->culls[making->last].estimated;
    }
    for (size_t i = 0; i < comparison->count; i++)
        compute_season(&comparison->rows[i]);
}

static void compute_all(struct comparison *comparison)
{
    struct two_groups *strata = alloc_zeroed(comparison->count, sizeof *strata);
    struct compare_row *all = &comparison->all;
    size_t count = 0;
    for (size_t i = 0; i < comparison->count; i++) {
        const struct two_groups *fish = &comparison->rows[i].fish;
        if (!two_groups_valid(fish))
            continue;
        add_fish(&all->fish, 0, fish->in_a, fish->kept_a);
        add_fish(&all->fish, 1, fish->in_b, fish->kept_b);
        strata[count++] = *fish;
    }
    all->difference = mantel_haenszel_difference(strata, count, CONFIDENCE_LEVEL);
    all->odds_ratio = mantel_haenszel_odds_ratio(strata, count, CONFIDENCE_LEVEL);
    all->equal = mantel_haenszel_equal(strata, count);
    all->alike = mantel_haenszel_alike(strata, count);
    free(strata);
}

static void list_left_out(const struct making *making, struct comparison *comparison)
{
    for (size_t i = 0; i < making->count; i++) {
        const struct family *family = &making->families[i];
        if (!counts(making, family))
            comparison->left_out[comparison->left_out_count++] = (struct compare_left_out){
                .spawning = family->spawning,
                .pair = pair_of(making, family),
                .season = family->season,
                .alone = family_went_through(family, making->first, making->last)};
    }
}

/* All spawnings of the pair, also of seasons that the other has not; without those of which more
 * were kept than went in. */
static struct pair_overdispersion overdispersion_of(const struct making *making, int pair)
{
    struct pair_overdispersion overdispersion = {.lowest = 1};
    struct cluster *clusters = alloc_zeroed(making->count, sizeof *clusters);
    for (size_t i = 0; i < making->count; i++) {
        const struct family *family = &making->families[i];
        int64_t in = family->culls[making->first].in;
        int64_t kept = family->culls[making->last].kept;
        if (pair_of(making, family) != pair || kept > in ||
            !family_went_through(family, making->first, making->last))
            continue;
        clusters[overdispersion.spawnings++] = (struct cluster){family->season, in, kept};
        overdispersion.lowest = fmin(overdispersion.lowest, (double)kept / (double)in);
        overdispersion.highest = fmax(overdispersion.highest, (double)kept / (double)in);
    }
    overdispersion.overall = overdispersion_overall(clusters, overdispersion.spawnings);
    overdispersion.within = overdispersion_within(clusters, overdispersion.spawnings);
    overdispersion.tarone = overdispersion_tarone(clusters, overdispersion.spawnings);
    overdispersion.beyond_chance = overdispersion_beyond_chance(clusters, overdispersion.spawnings);
    free(clusters);
    return overdispersion;
}

/* A pair's variety is that of its latest spawning. */
static const char *variety_of(const struct making *making, int pair)
{
    const char *variety = "";
    for (size_t i = 0; i < making->count; i++)
        if (pair_of(making, &making->families[i]) == pair)
            variety = making->families[i].lot->variety;
    return variety;
}

static void make(struct making *making, int stage, struct comparison *comparison)
{
    gather(making, &comparison->families);
    comparison->rows = alloc_zeroed(making->count, sizeof *comparison->rows);
    comparison->left_out = alloc_zeroed(making->count, sizeof *comparison->left_out);
    bool in_common = stage < 0 ? choose_stages(making) : try_stages(making, stage, stage);
    comparison->has_stages = in_common || stage >= 0;
    comparison->first = making->first;
    comparison->last = making->last;
    sum_seasons(making, comparison);
    list_left_out(making, comparison);
    compute_all(comparison);
    for (int pair = 0; pair < 2; pair++) {
        comparison->pairs[pair] = comparison->families.pairs.list[making->pairs[pair]].text;
        comparison->varieties[pair] = variety_of(making, pair);
        comparison->overdispersions[pair] = overdispersion_of(making, pair);
    }
    free(making->families);
}

static bool find_pairs(const struct rate_keys *pairs, const char *a, const char *b, int ret[2],
                       struct err *err)
{
    if (!pair_find(pairs, a, &ret[0], err) || !pair_find(pairs, b, &ret[1], err))
        return false;
    return ret[0] != ret[1] || err_set(err, ERR_USAGE, "Name two different pairs; both are %s.", a);
}

bool compare_make(struct ledger *ledger, const char *a, const char *b, int stage,
                  const struct selection *of, struct comparison *ret, struct err *err)
{
    struct comparison comparison = {.rows = NULL};
    struct making making = {.count = 0};
    if (!families_make(ledger, of, &comparison.families, err))
        return false;
    if (!find_pairs(&comparison.families.pairs, a, b, making.pairs, err)) {
        families_done(&comparison.families);
        return false;
    }
    make(&making, stage, &comparison);
    *ret = comparison;
    return true;
}

void compare_done(struct comparison *comparison)
{
    free(comparison->rows);
    free(comparison->left_out);
    families_done(&comparison->families);
}
