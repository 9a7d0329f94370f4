#include "senbetsu/report/families.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>

static void name_broods(struct families *families)
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

/* Rows stand in order of the broods; those of chained rates are passed over. */
static void add_culls(struct families *families)
{
    struct family *family = families->list;
    for (size_t i = 0; i < families->rates.count; i++) {
        const struct rate_row *row = &families->rates.rows[i];
        while (family->spawning != row->key)
            family++;
        if (row->first != row->last)
            continue;
        family->culls[row->first] = (struct family_cull){.in = row->in,
                                                         .kept = row->kept,
                                                         .in_cv = row->in_cv,
                                                         .kept_cv = row->kept_cv,
                                                         .covariance = row->covariance,
                                                         .estimated = row->estimated,
                                                         .error_unknown = row->error_unknown,
                                                         .at_work = row->so_far || row->whole > 0};
        family->stages |= 1U << row->first;
    }
}

bool families_make(struct ledger *ledger, struct families *ret, struct err *err)
{
    struct families families;
    if (!rates_make(ledger, BY_SPAWNING, -1, &families.rates, err))
        return false;
    rate_keys_init(&families.pairs, BY_PAIR, families.rates.lots, families.rates.lot_count);
    families.count = families.rates.keys.count;
    families.list = alloc_zeroed(families.count, sizeof *families.list);
    name_broods(&families);
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
           (first == last || !family->culls[last].at_work);
}
