#include "senbetsu/cli/broods.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

static void name_broods(struct broods *broods)
{
    const struct rate_keys *spawnings = &broods->rates.keys;
    for (size_t i = 0; i < broods->count; i++)
        broods->list[i] = (struct brood){.spawning = spawnings->list[i].text,
                                         .season = spawnings->list[i].season,
                                         .pair = NO_KEY};
    for (size_t lot = 0; lot < broods->rates.lot_count; lot++)
        if (spawnings->of[lot] != NO_KEY) {
            broods->list[spawnings->of[lot]].pair = broods->pairs.of[lot];
            broods->list[spawnings->of[lot]].lot = &broods->rates.lots[lot];
        }
}

/* Rows stand in order of the broods; those of chained rates are passed over. */
static void add_culls(struct broods *broods)
{
    struct brood *brood = broods->list;
    for (size_t i = 0; i < broods->rates.count; i++) {
        const struct rate_row *row = &broods->rates.rows[i];
        while (brood->spawning != row->key)
            brood++;
        if (row->first != row->last)
            continue;
        brood->culls[row->first] = (struct brood_cull){.in = row->in,
                                                       .kept = row->kept,
                                                       .in_cv = row->in_cv,
                                                       .kept_cv = row->kept_cv,
                                                       .shared = row->shared,
                                                       .estimated = row->estimated,
                                                       .error_unknown = row->error_unknown,
                                                       .at_work = row->so_far || row->whole > 0};
        brood->stages |= 1U << row->first;
    }
}

bool broods_make(struct ledger *ledger, struct broods *ret, struct err *err)
{
    struct broods broods;
    if (!rates_make(ledger, BY_SPAWNING, -1, &broods.rates, err))
        return false;
    rate_keys_init(&broods.pairs, BY_PAIR, broods.rates.lots, broods.rates.lot_count);
    broods.count = broods.rates.keys.count;
    broods.list = alloc_zeroed(broods.count, sizeof *broods.list);
    name_broods(&broods);
    add_culls(&broods);
    *ret = broods;
    return true;
}

void broods_done(struct broods *broods)
{
    free(broods->list);
    rate_keys_done(&broods->pairs);
    rates_done(&broods->rates);
}

bool brood_went_through(const struct brood *brood, enum stage first, enum stage last)
{
    unsigned both = 1U << first | 1U << last;
    return (brood->stages & both) == both && brood->culls[first].in > 0 &&
           (first == last || !brood->culls[last].at_work);
}
