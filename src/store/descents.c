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
    ret->spawning_id = row_number(query);
    ret->mixed = ret->spawning_id == 0;
    ret->spawnings = alloc_text(row_text_in_place(query));
    ret->sires = alloc_text("");
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
    if (!query_end(&query, err)) {
        descents_free(descents, count);
        return false;
    }
    *ret = descents;
    *ret_count = count;
    return true;
}

static void add_code(char **list, const char *code)
{
    size_t length = strlen(*list);
    size_t more = strlen(code);
    *list = alloc_resized(*list, length + more + 2, 1);
    if (length > 0)
        (*list)[length++] = ';';
    memcpy(*list + length, code, more + 1);
}

/* Where a lot stands in the list; `count` where it does not. */
static size_t place_of(const struct descent *descents, size_t count, int64_t lot_id)
{
    size_t low = 0;
    for (size_t high = count; low < high;) {
        size_t middle = low + (high - low) / 2;
        if (descents[middle].lot_id < lot_id)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && descents[low].lot_id == lot_id ? low : count;
}

/* Rows come in order of the sire's code, so that each lot gets its own in that order. */
static bool read_sires(struct ledger *ledger, struct descent *descents, size_t count,
                       struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_DESCENT_SIRES);
    while (query_step(&query)) {
        size_t at = place_of(descents, count, row_number(&query));
        if (at < count)
            add_code(&descents[at].sires, row_text_in_place(&query));
    }
    return query_end(&query, err);
}

/* What several spawnings do not agree in is not known of their fish. */
static void add_source(struct descent *descent, struct query *query)
{
    bool first = descent->spawnings[0] == '\0';
    add_code(&descent->spawnings, row_text_in_place(query));
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
    struct query query;
    query_begin(&query, ledger, SQL_DESCENT_SOURCES);
    while (query_step(&query)) {
        size_t at = place_of(descents, count, row_number(&query));
        if (at < count)
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
        descents_free(descents, count);
        return false;
    }
    *ret = descents;
    *ret_count = count;
    return true;
}

void descent_done(struct descent *descent)
{
    free(descent->spawnings);
    free(descent->sires);
}

void descents_free(struct descent *descents, size_t count)
{
    for (size_t i = 0; i < count; i++)
        descent_done(&descents[i]);
    free(descents);
}

const struct descent *descent_find(const struct descent *descents, size_t count, int64_t lot_id)
{
    size_t at = place_of(descents, count, lot_id);
    return at < count ? &descents[at] : NULL;
}
