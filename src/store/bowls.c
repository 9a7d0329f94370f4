#include "cached_verdicts.h"
#include "record.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/store/rounds.h"

#include <stdio.h>
#include <stdlib.h>

static void read_bowl(struct query *query, struct bowl *ret)
{
    *ret = (struct bowl){.id = row_number(query)};
    ret->round_id = row_number(query);
    ret->number = (int)row_number(query);
    ret->expected = (int)row_number(query);
    ret->tally.expected = ret->expected;
    row_text(query, ret->day, sizeof ret->day);
}

/* One row or none (`ret->id` 0). */
static bool read_one(struct query *query, struct bowl *ret, struct err *err)
{
    *ret = (struct bowl){.id = 0};
    if (query_step(query))
        read_bowl(query, ret);
    return query_end(query, err);
}

static bool count(struct ledger *ledger, struct bowl *bowl, struct err *err)
{
    int64_t first;
    int64_t last;
    return standings_count(ledger, SQL_BOWL_TALLY, bowl->id, &bowl->tally, &first, &last, err);
}

bool bowl_get(struct ledger *ledger, int64_t id, struct bowl *ret, struct err *err)
{
    struct bowl bowl;
    struct query query;
    query_begin(&query, ledger, SQL_BOWL_BY_ID);
    query_number(&query, id);
    if (!read_one(&query, &bowl, err))
        return false;
    if (bowl.id == 0)
        return err_set(err, ERR_ABSENT, "There is no such bowl in the ledger.");
    if (!count(ledger, &bowl, err))
        return false;
    *ret = bowl;
    return true;
}

bool bowl_list(struct ledger *ledger, int64_t round_id, struct bowl **ret, size_t *ret_count,
               struct err *err)
{
    struct bowl *bowls = NULL;
    size_t found = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_BOWL_LIST);
    query_number(&query, round_id);
    while (query_step(&query)) {
        bowls = alloc_room(bowls, found, &capacity, sizeof *bowls);
        read_bowl(&query, &bowls[found++]);
    }
    bool fine = query_end(&query, err);
    for (size_t i = 0; fine && i < found; i++)
        fine = count(ledger, &bowls[i], err);
    if (!fine) {
        free(bowls);
        return false;
    }
    *ret = bowls;
    *ret_count = found;
    return true;
}

static bool find(struct ledger *ledger, int64_t round_id, int number, struct bowl *ret,
                 struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_BOWL_NUMBERED);
    query_number(&query, round_id);
    query_number(&query, number);
    return read_one(&query, ret, err);
}

static bool add(struct ledger *ledger, int64_t round_id, int number, int expected, const char *day,
                struct err *err)
{
    int64_t id;
    struct query query;
    if (!new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_BOWL_ADD);
    query_number(&query, id);
    query_number(&query, round_id);
    query_number(&query, number);
    query_number_or_null(&query, expected, 0);
    query_text(&query, day);
    return query_run(&query, err);
}

static bool expect(struct ledger *ledger, const struct bowl *bowl, int expected, struct err *err)
{
    struct change about = {"bowl", bowl->id, 0, ""};
    char was[NUMBER_SIZE] = "", becomes[NUMBER_SIZE];
    struct query query;
    if (bowl->expected != 0)
        snprintf(was, sizeof was, "%d", bowl->expected);
    snprintf(becomes, sizeof becomes, "%d", expected);
    query_begin(&query, ledger, SQL_BOWL_EXPECT);
    query_number(&query, expected);
    query_number(&query, bowl->id);
    return query_run(&query, err) && audit_log_add(ledger, &about, "expected", was, becomes, err);
}

/* `bowl` is what was found before the transaction began, and somebody may have been quicker. */
static bool add_or_expect(struct ledger *ledger, struct bowl *bowl, int expected, const char *day,
                          struct err *err)
{
    int64_t round_id = bowl->round_id;
    int number = bowl->number;
    if (!find(ledger, round_id, number, bowl, err))
        return false;
    bool written = bowl->id == 0 ? add(ledger, round_id, number, expected, day, err)
                                 : expect(ledger, bowl, expected, err);
    return written && find(ledger, round_id, number, bowl, err);
}

bool bowl_begin(struct ledger *ledger, int64_t round_id, int number, int expected, const char *day,
                struct bowl *ret, struct err *err)
{
    struct bowl bowl;
    if (!find(ledger, round_id, number, &bowl, err))
        return false;
    if (bowl.id == 0 || (expected != 0 && expected != bowl.expected)) {
        bowl.round_id = round_id;
        bowl.number = number;
        if (!write_begin(ledger, err) ||
            !write_end(ledger, add_or_expect(ledger, &bowl, expected, day, err), err))
            return false;
    }
    *ret = bowl;
    return true;
}
