#include "senbetsu/store/fish.h"

#include "replay.h"

#include <stdlib.h>

static bool find(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                 struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_FISH_NUMBERED);
    query_number(&query, bowl_id);
    query_number(&query, number);
    return query_single(&query, ret_id, err);
}

static bool find_or_add(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                        struct err *err)
{
    struct query query;
    if (!find(ledger, bowl_id, number, ret_id, err))
        return false;
    if (*ret_id != 0)
        return true;
    if (!new_id(ledger, ret_id, err))
        return false;
    query_begin(&query, ledger, SQL_FISH_ADD);
    query_number(&query, *ret_id);
    query_number(&query, bowl_id);
    query_number(&query, number);
    return query_run(&query, err);
}

bool fish_begin(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                struct err *err)
{
    int64_t id = 0;
    if (!find(ledger, bowl_id, number, &id, err))
        return false;
    if (id == 0 && !(write_begin(ledger, err) &&
                     write_end(ledger, find_or_add(ledger, bowl_id, number, &id, err), err)))
        return false;
    *ret_id = id;
    return true;
}

static bool load(struct ledger *ledger, enum sql sql, int64_t id, const struct standard *standard,
                 struct fish **ret, size_t *ret_count, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, sql);
    query_number(&query, id);
    return fold(&query, standard, ret, ret_count, err);
}

bool fish_load(struct ledger *ledger, int64_t id, const struct standard *standard, struct fish *ret,
               struct err *err)
{
    struct fish *fish;
    size_t count;
    if (!load(ledger, SQL_FISH_OF_ID, id, standard, &fish, &count, err))
        return false;
    if (count == 1)
        *ret = fish[0];
    free(fish);
    return count == 1 || err_set(err, ERR_ABSENT, "There is no such fish in the ledger.");
}

bool fish_of_bowl(struct ledger *ledger, int64_t bowl_id, const struct standard *standard,
                  struct fish **ret, size_t *ret_count, struct err *err)
{
    return load(ledger, SQL_FISH_OF_BOWL, bowl_id, standard, ret, ret_count, err);
}

bool fish_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                   struct fish **ret, size_t *ret_count, struct err *err)
{
    return load(ledger, SQL_FISH_OF_ROUND, round_id, standard, ret, ret_count, err);
}

bool tag_bearer(struct ledger *ledger, int64_t round_id, const char *tag, int *ret_bowl,
                int *ret_number, struct err *err)
{
    int bowl = 0;
    int number = 0;
    struct query query;
    query_begin(&query, ledger, SQL_TAG_BEARER);
    query_number(&query, round_id);
    query_text(&query, tag);
    if (query_step(&query)) {
        bowl = (int)row_number(&query);
        number = (int)row_number(&query);
    }
    if (!query_end(&query, err))
        return false;
    *ret_bowl = bowl;
    *ret_number = number;
    return true;
}
