#include "senbetsu/store/judges.h"

#include "query.h"
#include "senbetsu/base/alloc.h"

static bool find(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_JUDGE_NAMED);
    query_text(&query, name);
    return query_single(&query, ret_id, err);
}

static bool find_or_add(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err)
{
    struct query query;
    if (!find(ledger, name, ret_id, err))
        return false;
    if (*ret_id != 0)
        return true;
    if (!new_id(ledger, ret_id, err))
        return false;
    query_begin(&query, ledger, SQL_JUDGE_ADD);
    query_number(&query, *ret_id);
    query_text(&query, name);
    return query_run(&query, err);
}

bool judge_named(struct ledger *ledger, const char *name, int64_t *ret_id, struct err *err)
{
    int64_t id = 0;
    if (*name != '\0') {
        if (!code_check(name, "The judge's name", err) || !find(ledger, name, &id, err))
            return false;
        if (id == 0 && !(write_begin(ledger, err) &&
                         write_end(ledger, find_or_add(ledger, name, &id, err), err)))
            return false;
    }
    *ret_id = id;
    return true;
}

bool judge_list(struct ledger *ledger, struct judge **ret, size_t *ret_count, struct err *err)
{
    struct judge *judges = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_JUDGE_LIST);
    while (query_step(&query)) {
        judges = alloc_room(judges, count, &capacity, sizeof *judges);
        judges[count].id = row_number(&query);
        row_text(&query, judges[count].name, sizeof judges[count].name);
        count++;
    }
    return query_list(&query, judges, count, ret, ret_count, err);
}
