#include "lots.h"

#include "query.h"
#include "senbetsu/core/code.h"

bool lot_find(struct ledger *ledger, int64_t spawning, const char *code, int64_t *ret_id,
              struct err *err)
{
    int64_t id = 0;
    struct query query;
    query_begin(&query, ledger, SQL_LOT_NAMED);
    query_number(&query, spawning);
    query_text(&query, code);
    if (!query_single(&query, &id, err))
        return false;
    *ret_id = id;
    return true;
}

bool lot_add(struct ledger *ledger, int64_t spawning, const char *code, bool own, int64_t *ret_id,
             struct err *err)
{
    int64_t id;
    struct query query;
    if (!code_check(code, "The lot's code", err) || !new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_LOT_ADD);
    query_number(&query, id);
    query_text(&query, code);
    query_number(&query, spawning);
    query_number(&query, own);
    if (!query_run(&query, err))
        return false;
    query_begin(&query, ledger, SQL_LOT_SOURCE_ADD);
    query_number(&query, id);
    query_number(&query, spawning);
    if (!query_run(&query, err))
        return false;
    *ret_id = id;
    return true;
}
