#include "own_keys.h"

#include "query.h"

bool last_own_key(struct ledger *ledger, enum sql sql, int64_t round_id, int64_t judge,
                  int64_t *ret_id, struct err *err)
{
    int64_t last = 0;
    struct query query;
    query_begin(&query, ledger, sql);
    query_number(&query, round_id);
    query_number_or_null(&query, judge, 0);
    if (!query_single(&query, &last, err))
        return false;
    if (last == 0)
        return err_set(err, ERR_ABSENT, "There is no key of yours left to take back.");
    *ret_id = last;
    return true;
}
