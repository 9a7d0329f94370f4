/* What stands of the records, worked out from the audit log: of each field what was said last. A
 * join needs it, for the log is what two stations can put together; a decision between two of them
 * is one more entry and this once more. All of it is a function of what was recorded and of nothing
 * else (not of the order of joins, nor of which station this is), so that every station comes to
 * the same (docs/decisions/stations.md).
 *
 * Two stations may have said what one alone could not: then the later stands, as far as there is a
 * later one; what something live stands on is not retired; and of two of one name the first keeps
 * it, the other gets "~2". */
#include "settle.h"

#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/code.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool run(struct ledger *ledger, enum sql sql, struct err *err)
{
    struct query query = query_begin(ledger, sql);
    return query_run(&query, err);
}

static bool run_all(struct ledger *ledger, const enum sql *statements, size_t count,
                    struct err *err)
{
    for (size_t i = 0; i < count; i++)
        if (!run(ledger, statements[i], err))
            return false;
    return true;
}

#define RUN_ALL(ledger, statements, err)                                                           \
    run_all(ledger, statements, sizeof(statements) / sizeof *(statements), err)

/* Says that one record leads to another. */
struct lead {
    int64_t id, to, since;
};

static void read_lead(struct query *query, void *ret_item)
{
    struct lead *ret = ret_item;
    ret->id = row_id(query);
    ret->to = row_id(query);
    ret->since = row_between(query, INT64_MIN, INT64_MAX);
}

/* Judges that are somebody else: "Bo is Bob" and "Bob is Robert" make both Robert. Where two
 * stations said it the other way round, the later stands. */
static int64_t last_of(const struct lead *leads, size_t count, int64_t id)
{
    for (size_t i = 0; i < count; i++)
        if (leads[i].id == id)
            return last_of(leads, count, leads[i].to);
    return id;
}

static bool settle_right_names(struct ledger *ledger, struct err *err)
{
    struct lead *leads;
    size_t count, accepted = 0;
    struct query query = query_begin(ledger, SQL_RIGHT_NAMES);
    if (!query_rows(&query, read_lead, sizeof *leads, &leads, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        if (last_of(leads, accepted, leads[i].to) != leads[i].id)
            leads[accepted++] = leads[i];
    bool fine = true;
    for (size_t i = 0; fine && i < accepted; i++) {
        query = query_with(ledger, SQL_SETTLE_RIGHT_NAME, leads[i].id);
        query_number(&query, last_of(leads, accepted, leads[i].to));
        query_number(&query, leads[i].since);
        fine = query_run(&query, err);
    }
    free(leads);
    return fine;
}

/* Does a line of dams and sires lead from one fish up to the other? `leads` has no circle. */
static bool descends(const struct lead *leads, size_t count, int64_t id, int64_t from)
{
    if (id == from)
        return true;
    for (size_t i = 0; i < count; i++)
        if (leads[i].id == id && descends(leads, count, leads[i].to, from))
            return true;
    return false;
}

static int compare_leads(const void *a, const void *b)
{
    int64_t left = ((const struct lead *)a)->id, right = ((const struct lead *)b)->id;
    return (left > right) - (left < right);
}

static const struct lead *find_lead(const struct lead *sorted, size_t count, int64_t id)
{
    struct lead key = {.id = id};
    return bsearch(&key, sorted, count, sizeof key, compare_leads);
}

/* Keeps of `leads` those from fish that are in a circle or descend from one: takes away, again and
 * again, those that lead to a fish from which no other leads. */
static size_t keep_circles(struct lead *leads, size_t count)
{
    struct lead *sorted = alloc_zeroed(count + 1, sizeof *sorted);
    size_t before;
    do {
        before = count;
        if (count > 0)
            memcpy(sorted, leads, count * sizeof *leads);
        qsort(sorted, count, sizeof *sorted, compare_leads);
        size_t kept = 0;
        for (size_t i = 0; i < count; i++)
            if (find_lead(sorted, before, leads[i].to) != NULL)
                leads[kept++] = leads[i];
        count = kept;
    } while (count < before);
    free(sorted);
    return count;
}

/* Two stations may have made two fish each other's ancestors: what was said first of the circle
 * does not stand. */
static bool settle_pedigree(struct ledger *ledger, struct err *err)
{
    struct lead *leads;
    size_t count, accepted = 0;
    struct query query = query_begin(ledger, SQL_PEDIGREE);
    if (!query_rows(&query, read_lead, sizeof *leads, &leads, &count, err))
        return false;
    bool fine = true;
    count = keep_circles(leads, count);
    for (size_t i = 0; fine && i < count; i++) {
        struct lead lead = leads[i];
        if (!descends(leads, accepted, lead.to, lead.id)) {
            leads[accepted++] = lead;
            continue;
        }
        query = query_with(ledger, SQL_PARENT_UNLINK, lead.id);
        query_number(&query, lead.to);
        fine = query_run(&query, err);
    }
    free(leads);
    return fine;
}

/* Names. */

struct name {
    int64_t id, scope;
    char name[CODE_SIZE];
    bool counts; /* it must be the only one of its name */
};

static void read_name(struct query *query, void *ret_item)
{
    struct name *ret = ret_item;
    ret->id = row_id(query);
    ret->scope = row_between(query, 0, INT64_MAX);
    row_code(query, ret->name, sizeof ret->name);
    ret->counts = row_flag(query);
}

static bool is_taken(const struct name *names, size_t count, const struct name *name)
{
    for (size_t i = 0; i < count; i++)
        if (&names[i] != name && names[i].counts && names[i].scope == name->scope &&
            strcmp(names[i].name, name->name) == 0)
            return true;
    return false;
}

/* "K1~2", or with the next number that is free; cut where it would be too long for a code. */
static void tell_apart(const struct name *names, size_t count, struct name *name)
{
    char wanted[CODE_SIZE], mark[12];
    text_copy(wanted, sizeof wanted, name->name);
    for (int number = 2; is_taken(names, count, name); number++) {
        snprintf(mark, sizeof mark, "~%d", number);
        while (utf8_count(wanted) + strlen(mark) > CODE_CHARACTERS)
            wanted[utf8_cut(wanted, strlen(wanted) - 1)] = '\0';
        text_copy(name->name, sizeof name->name, wanted);
        text_copy(name->name + strlen(wanted), sizeof name->name - strlen(wanted), mark);
    }
}

/* Those of one name stand together, the one that keeps it first. */
static bool settle_names(struct ledger *ledger, enum sql list, enum sql rename, struct err *err)
{
    struct name *names;
    size_t count;
    char kept[CODE_SIZE] = "";
    int64_t scope = 0;
    struct query query = query_begin(ledger, list);
    if (!query_rows(&query, read_name, sizeof *names, &names, &count, err))
        return false;
    bool fine = true;
    for (size_t i = 0; fine && i < count; i++) {
        struct name *name = &names[i];
        bool first = scope != name->scope || strcmp(kept, name->name) != 0;
        scope = name->scope;
        text_copy(kept, sizeof kept, name->name);
        if (!first && name->counts)
            tell_apart(names, count, name);
        query = query_with(ledger, rename, name->id);
        query_text(&query, name->name);
        fine = query_run(&query, err);
    }
    free(names);
    return fine;
}

/* The fish and bowls that a station numbered alike, each given the next number, in their order. */
static bool number_anew(struct ledger *ledger, enum sql alike, enum sql number, struct err *err)
{
    int64_t *ids;
    size_t count;
    struct query query = query_begin(ledger, alike);
    if (!query_numbers(&query, 1, INT64_MAX, &ids, &count, err))
        return false;
    bool fine = true;
    for (size_t i = 0; fine && i < count; i++) {
        query = query_with(ledger, number, ids[i]);
        fine = query_run(&query, err);
    }
    free(ids);
    return fine;
}

/* Again until nothing changes: one that is held may hold others. */
static bool hold(struct ledger *ledger, enum sql sql, int *ret_held, struct err *err)
{
    int held;
    do {
        if (!run(ledger, sql, err))
            return false;
        held = sqlite3_changes(ledger->db);
        *ret_held += held;
    } while (held > 0);
    return true;
}

/* Lots go with their spawning, unless their fish went on into a live one; then their spawning is
 * live as well, and its other lots with it. */
static bool settle_lots_and_spawnings(struct ledger *ledger, struct err *err)
{
    int lots = 0, spawnings;
    do {
        spawnings = 0;
        if (!run(ledger, SQL_SETTLE_LOTS_RETIRED, err) ||
            !hold(ledger, SQL_SETTLE_LOTS_HELD, &lots, err) ||
            !hold(ledger, SQL_SETTLE_SPAWNINGS_HELD, &spawnings, err))
            return false;
    } while (spawnings > 0);
    return true;
}

bool records_settle(struct ledger *ledger, struct err *err)
{
    static const enum sql fields[] = {
        SQL_SETTLE_STATIONS, SQL_SETTLE_JUDGES,    SQL_SETTLE_VARIETIES,   SQL_SETTLE_PARENTS,
        SQL_SETTLE_LOTS,     SQL_SETTLE_SPAWNINGS, SQL_SETTLE_SIRES_CLEAR, SQL_SETTLE_SIRES,
        SQL_SETTLE_SIRING,   SQL_SETTLE_ROUNDS,    SQL_SETTLE_BOWLS,       SQL_SETTLE_FISH,
    };
    static const enum sql varieties[] = {SQL_SETTLE_PARENT_VARIETIES, SQL_SETTLE_SPAWNING_VARIETIES,
                                         SQL_SETTLE_VARIETIES_HELD};
    static const enum sql rounds[] = {SQL_SETTLE_ROUNDS_RETIRED, SQL_SETTLE_TWINS};
    int parents = 0;
    return RUN_ALL(ledger, fields, err) && settle_right_names(ledger, err) &&
           settle_pedigree(ledger, err) && settle_lots_and_spawnings(ledger, err) &&
           hold(ledger, SQL_SETTLE_PARENTS_HELD, &parents, err) &&
           settle_names(ledger, SQL_JUDGE_NAMES, SQL_JUDGE_RENAME, err) &&
           settle_names(ledger, SQL_VARIETY_NAMES, SQL_VARIETY_RENAME, err) &&
           RUN_ALL(ledger, varieties, err) &&
           settle_names(ledger, SQL_PARENT_NAMES, SQL_PARENT_RENAME, err) &&
           settle_names(ledger, SQL_SPAWNING_NAMES, SQL_SPAWNING_RENAME, err) &&
           settle_names(ledger, SQL_LOT_NAMES, SQL_LOT_RENAME, err) &&
           RUN_ALL(ledger, rounds, err) &&
           number_anew(ledger, SQL_FISH_ALIKE, SQL_SETTLE_FISH_NUMBER, err) &&
           number_anew(ledger, SQL_BOWLS_ALIKE, SQL_SETTLE_BOWL_NUMBER, err) &&
           run(ledger, SQL_SETTLE_BOWLS_RETIRED, err);
}
