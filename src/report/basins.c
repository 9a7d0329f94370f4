/* Works out what is left to do in the basins of a round, from where its fish were put when they
 * were judged and what stands of them now. */
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

struct basins basins_of(const struct cull_round *round)
{
    struct basins basins = {0};
    for (size_t i = 0; i < round->fish_count; i++)
        add_fish(&round->fish[i], &basins);
    return basins;
}
