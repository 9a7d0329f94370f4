/* Where the fish of every lot come from. Three queries over the whole ledger, each in its order,
 * take the place of three for every lot: rates and pairs ask for all lots at once. */
#include "senbetsu/store/lot_origins.h"

#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>
#include <string.h>

/* The row's next column, a code; "" where there is none. */
static const char *row_code_in_place(struct query *query)
{
    const char *code = row_text_within(query, CODE_SIZE);
    return code == NULL ? "" : code;
}

static void read_origin(struct query *query, struct lot_origin *ret)
{
    *ret = (struct lot_origin){.lot_id = row_id(query)};
    row_code(query, ret->lot, sizeof ret->lot);
    ret->own = row_flag(query);
    ret->spawning_id = row_id_or_none(query);
    ret->mixed = ret->spawning_id == 0;
    ret->spawnings = alloc_text(row_code_in_place(query));
    ret->sires = alloc_text("");
    ret->season = row_int_or(query, YEAR_LOWEST, YEAR_HIGHEST, 0);
    row_text(query, ret->variety, sizeof ret->variety);
    ret->hatched = row_fish(query);
    row_text(query, ret->dam, sizeof ret->dam);
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
static size_t place_of(const struct lot_origin *lot_origins, size_t count, int64_t lot_id)
{
    size_t low = 0;
    for (size_t high = count; low < high;) {
        size_t middle = low + (high - low) / 2;
        if (lot_origins[middle].lot_id < lot_id)
            low = middle + 1;
        else
            high = middle;
    }
    return low < count && lot_origins[low].lot_id == lot_id ? low : count;
}

/* Rows come in order of the sire's code, so that each lot gets its own in that order. */
static bool read_sires(struct ledger *ledger, struct lot_origin *lot_origins, size_t count,
                       struct err *err)
{
    struct query query = query_begin(ledger, SQL_LOT_ORIGIN_SIRES);
    while (query_step(&query)) {
        size_t at = place_of(lot_origins, count, row_id(&query));
        if (at < count)
            add_code(&lot_origins[at].sires, row_code_in_place(&query));
    }
    return query_end(&query, err);
}

/* What several spawnings do not agree in is not known of their fish. */
static void add_source(struct lot_origin *lot_origin, struct query *query)
{
    bool first = lot_origin->spawnings[0] == '\0';
    add_code(&lot_origin->spawnings, row_code_in_place(query));
    int season = row_int(query, YEAR_LOWEST, YEAR_HIGHEST);
    const char *variety = row_code_in_place(query);
    if (first) {
        lot_origin->season = season;
        text_copy(lot_origin->variety, sizeof lot_origin->variety, variety);
    }
    if (season != lot_origin->season)
        lot_origin->season = 0;
    if (strcmp(variety, lot_origin->variety) != 0)
        lot_origin->variety[0] = '\0';
}

static bool read_sources(struct ledger *ledger, struct lot_origin *lot_origins, size_t count,
                         struct err *err)
{
    struct query query = query_begin(ledger, SQL_LOT_ORIGIN_SOURCES);
    while (query_step(&query)) {
        size_t at = place_of(lot_origins, count, row_id(&query));
        if (at < count)
            add_source(&lot_origins[at], &query);
    }
    return query_end(&query, err);
}

bool lot_origins_list(struct ledger *ledger, struct lot_origin **ret, size_t *ret_count,
                      struct err *err)
{
    struct lot_origin *lot_origins = NULL;
    size_t count = 0, capacity = 0;
    struct query query = query_begin(ledger, SQL_LOT_ORIGINS);
    while (query_step(&query)) {
        lot_origins = alloc_room(lot_origins, count, &capacity, sizeof *lot_origins);
        read_origin(&query, &lot_origins[count++]);
    }
    if (!query_end(&query, err) || !read_sires(ledger, lot_origins, count, err) ||
        !read_sources(ledger, lot_origins, count, err)) {
        lot_origins_free(lot_origins, count);
        return false;
    }
    *ret = lot_origins;
    *ret_count = count;
    return true;
}

void lot_origin_done(struct lot_origin *lot_origin)
{
    free(lot_origin->spawnings);
    free(lot_origin->sires);
}

void lot_origins_free(struct lot_origin *lot_origins, size_t count)
{
    for (size_t i = 0; i < count; i++)
        lot_origin_done(&lot_origins[i]);
    free(lot_origins);
}

const struct lot_origin *lot_origin_find(const struct lot_origin *lot_origins, size_t count,
                                         int64_t lot_id)
{
    size_t at = place_of(lot_origins, count, lot_id);
    return at < count ? &lot_origins[at] : NULL;
}
