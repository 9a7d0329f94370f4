#include "senbetsu/store/descents.h"

#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>
#include <string.h>

static void read_descent(struct query *query, struct descent *ret)
{
    *ret = (struct descent){.lot_id = row_number(query)};
    row_text(query, ret->lot, sizeof ret->lot);
    ret->own = row_number(query);
    ret->mixed = row_number(query);
    row_text(query, ret->spawnings, sizeof ret->spawnings);
    ret->season = (int)row_number(query);
    row_text(query, ret->variety, sizeof ret->variety);
    ret->hatched = row_number_or(query, UNKNOWN_COUNT);
    row_text(query, ret->dam, sizeof ret->dam);
}

static bool read_lots(struct ledger *ledger, struct descent **ret, size_t *ret_count,
                      struct err *err)
{
    struct descent *descents = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_DESCENTS);
    while (query_step(&query)) {
        descents = alloc_room(descents, count, &capacity, sizeof *descents);
        read_descent(&query, &descents[count++]);
    }
    return query_list(&query, descents, count, ret, ret_count, err);
}

static void add_code(char list[SIRES_SIZE], const char *code)
{
    size_t length = strlen(list);
    if (length > 0 && length + 1 < SIRES_SIZE)
        list[length++] = ';';
    text_copy(list + length, SIRES_SIZE - length, code);
}

/* Rows come in order of the lot, as `descents` stands. */
static bool read_sires(struct ledger *ledger, struct descent *descents, size_t count,
                       struct err *err)
{
    size_t at = 0;
    struct query query;
    query_begin(&query, ledger, SQL_DESCENT_SIRES);
    while (query_step(&query)) {
        int64_t lot_id = row_number(&query);
        while (at < count && descents[at].lot_id < lot_id)
            at++;
        if (at < count && descents[at].lot_id == lot_id)
            add_code(descents[at].sires, row_text_in_place(&query));
    }
    return query_end(&query, err);
}

/* What several spawnings do not agree in is not known of their fish. */
static void add_source(struct descent *descent, struct query *query)
{
    bool first = descent->spawnings[0] == '\0';
    add_code(descent->spawnings, row_text_in_place(query));
    int season = (int)row_number(query);
    const char *variety = row_text_in_place(query);
    if (first) {
        descent->season = season;
        text_copy(descent->variety, sizeof descent->variety, variety);
    }
    if (season != descent->season)
        descent->season = 0;
    if (strcmp(variety, descent->variety) != 0)
        descent->variety[0] = '\0';
}

static bool read_sources(struct ledger *ledger, struct descent *descents, size_t count,
                         struct err *err)
{
    size_t at = 0;
    struct query query;
    query_begin(&query, ledger, SQL_DESCENT_SOURCES);
    while (query_step(&query)) {
        int64_t lot_id = row_number(&query);
        while (at < count && descents[at].lot_id < lot_id)
            at++;
        if (at < count && descents[at].lot_id == lot_id)
            add_source(&descents[at], &query);
    }
    return query_end(&query, err);
}

bool descents_list(struct ledger *ledger, struct descent **ret, size_t *ret_count, struct err *err)
{
    struct descent *descents;
    size_t count;
    if (!read_lots(ledger, &descents, &count, err))
        return false;
    if (!read_sires(ledger, descents, count, err) || !read_sources(ledger, descents, count, err)) {
        free(descents);
        return false;
    }
    *ret = descents;
    *ret_count = count;
    return true;
}

const struct descent *descent_find(const struct descent *descents, size_t count, int64_t lot_id)
{
    size_t low = 0;
    for (size_t high = count; low < high;) {
        size_t middle = low + (high - low) / 2;
        if (descents[middle].lot_id < lot_id)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && descents[low].lot_id == lot_id ? &descents[low] : NULL;
}
