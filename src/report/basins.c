/* Works out what is left to do in the basins of a round, from where its fish were put when they
 * were judged, what stands of them now, and what a closer look has picked since. */
#include "senbetsu/report/basins.h"

bool basin_is_wrong(const struct fish_row *fish)
{
    return fish->sent != fish->verdict;
}

static void add_fish(const struct fish_row *fish, struct basins *basins)
{
    struct basin *basin = &basins->of[fish->sent];
    basin->fish++;
    basins->after[fish->verdict]++;
    if (!basin_is_wrong(fish))
        return;
    if (*fish->tag != '\0')
        basin->by_tag++;
    else
        basin->out[fish->verdict]++;
}

int basin_picked(const struct basin *basin)
{
    int fish = 0;
    for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
        fish += basin->out[verdict];
    return fish;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* Fish of the keep basin that stay there though the pass holds them: nobody picks these out. */
static void let_stay(struct basins *basins, int fish)
{
    int *held = &basins->of[VERDICT_KEEP].out[VERDICT_HOLD];
    int stay = least(fish, *held);
    *held -= stay;
    basins->after[VERDICT_HOLD] -= stay;
    basins->after[VERDICT_KEEP] += stay;
}

/* Held fish were carried out of this basin into the keep basin. Returns how many. */
static int carry(struct basins *basins, enum verdict from, int held, int fish)
{
    int carried = least(fish, held);
    basins->of[from].fish -= carried;
    basins->of[VERDICT_KEEP].fish += carried;
    basins->after[VERDICT_HOLD] -= carried;
    basins->after[VERDICT_KEEP] += carried;
    return carried;
}

/* What a closer look has picked already. It goes through the hold basin, so nearly all were in
 * that; those beyond it were held and lay elsewhere. */
static void take_picks(struct basins *basins, const struct picks *picks)
{
    static const enum verdict elsewhere[] = {VERDICT_OPEN, VERDICT_REJECT};
    const struct basin *hold = &basins->of[VERDICT_HOLD];
    int fish = picks->from_hold;
    fish -= carry(basins, VERDICT_HOLD, hold->fish - basin_picked(hold) - hold->by_tag, fish);
    for (size_t i = 0; i < sizeof elsewhere / sizeof *elsewhere; i++) {
        int *held = &basins->of[elsewhere[i]].out[VERDICT_HOLD];
        int carried = carry(basins, elsewhere[i], *held, fish);
        *held -= carried;
        fish -= carried;
    }
    let_stay(basins, picks->stay + fish);
}

static int at_least_none(int fish)
{
    return fish > 0 ? fish : 0;
}

/* Tied fish without a tag that lie in the keep basin, or elsewhere. */
static int tied_in(const struct cull_round *round, const struct cull_tie *tie, bool keep_basin)
{
    int fish = 0;
    for (size_t i = 0; i < round->fish_count; i++)
        fish += cull_ties(&round->fish[i], tie) && *round->fish[i].tag == '\0' &&
                (round->fish[i].sent == VERDICT_KEEP) == keep_basin;
    return fish;
}

static void fill_places(const struct cull_round *round, struct basins *basins)
{
    struct cull_tie tie = cull_tie_of(round);
    if (tie.fish == 0)
        return;
    int *weak = &basins->of[VERDICT_KEEP].out[VERDICT_HOLD];
    int stay = least(tie.places, at_least_none(tied_in(round, &tie, true) - round->picks.stay));
    int pick = least(tie.places - stay,
                     at_least_none(tied_in(round, &tie, false) - round->picks.from_hold));
    *weak = at_least_none(*weak - stay);
    basins->of[VERDICT_HOLD].out[VERDICT_KEEP] += pick;
    basins->after[VERDICT_HOLD] -= stay + pick;
    basins->after[VERDICT_KEEP] += stay + pick;
}

struct basins basins_of(const struct cull_round *round)
{
    struct basins basins = {0};
    for (size_t i = 0; i < round->fish_count; i++)
        add_fish(&round->fish[i], &basins);
    take_picks(&basins, &round->picks);
    fill_places(round, &basins);
    return basins;
}
