/* Lots in the ledger: found or begun by the codes of their spawnings. A lot of several spawnings is
 * mixed and known by its code alone; which spawnings it is of is fixed when it begins, for its fish
 * can never be told apart again. */
#include "lots.h"

#include "audit_log.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/code.h"
#include "senbetsu/store/spawnings.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* `*ret_id` 0 = none. */
static bool find_of_spawning(struct ledger *ledger, int64_t spawning, const char *code,
                             int64_t *ret_id, struct err *err)
{
    int64_t id = 0;
    struct query query = query_with(ledger, SQL_LOT_NAMED, spawning);
    query_text(&query, code);
    if (!query_single(&query, &id, err))
        return false;
    *ret_id = id;
    return true;
}

static bool add_source(struct ledger *ledger, int64_t lot, int64_t spawning, struct err *err)
{
    struct query query = query_with(ledger, SQL_LOT_SOURCE_ADD, lot);
    query_number(&query, spawning);
    return query_run(&query, err);
}

enum { SOURCES_MOST = CODES_SIZE / 2 };

/* The spawnings of a lot. */
struct sources {
    int64_t ids[SOURCES_MOST];
    int count;
};

static int compare_ids(const void *a, const void *b)
{
    int64_t left = *(const int64_t *)a, right = *(const int64_t *)b;
    return (left > right) - (left < right);
}

/* A lot is told by its spawnings and, unless it is what its spawning began as, its code. */
static bool lot_id(struct ledger *ledger, const struct sources *sources, const char *code, bool own,
                   int64_t *ret_id, struct err *err)
{
    struct sources sorted = *sources;
    struct text what;
    qsort(sorted.ids, (size_t)sorted.count, sizeof *sorted.ids, compare_ids);
    text_init(&what);
    for (int i = 0; i < sorted.count; i++)
        text_addf(&what, "%" PRId64 ";", sorted.ids[i]);
    text_add(&what, own ? "" : code);
    bool fine = office_id(ledger, "lot", what.data, ret_id, err);
    text_done(&what);
    return fine;
}

/* The code of a lot that its spawning began as is the spawning's: that is in the log already. */
static bool add_lot(struct ledger *ledger, const struct sources *sources, const char *code,
                    bool own, int64_t *ret_id, struct err *err)
{
    int64_t id;
    if (!code_check(code, "The lot's code", err) || !lot_id(ledger, sources, code, own, &id, err))
        return false;
    struct change about = {"lot", id, 0, ""};
    struct query query = query_with(ledger, SQL_LOT_ADD, id);
    query_text(&query, code);
    query_number_or_null(&query, sources->count == 1 ? sources->ids[0] : 0, 0);
    query_number(&query, own);
    bool fine =
        query_run(&query, err) && (own || audit_log_begin(ledger, &about, "lot", code, err));
    for (int i = 0; fine && i < sources->count; i++)
        fine = add_source(ledger, id, sources->ids[i], err);
    if (fine)
        *ret_id = id;
    return fine;
}

bool lot_add(struct ledger *ledger, int64_t spawning, const char *code, bool own, int64_t *ret_id,
             struct err *err)
{
    struct sources sources = {.ids = {spawning}, .count = 1};
    return add_lot(ledger, &sources, code, own, ret_id, err);
}

static bool add_id(struct sources *sources, const struct spawning *spawning, struct err *err)
{
    for (int i = 0; i < sources->count; i++)
        if (sources->ids[i] == spawning->id)
            return err_set(err, ERR_INPUT, "Spawning %s is named twice.", spawning->code);
    sources->ids[sources->count++] = spawning->id;
    return true;
}

static bool read_sources(struct ledger *ledger, const char *spawnings, struct sources *ret,
                         struct err *err)
{
    char list[CODES_SIZE];
    char *rest = NULL;
    struct spawning spawning;
    if (strlen(spawnings) >= sizeof list)
        return err_set(err, ERR_INPUT, "There are too many spawnings for one mixed lot.");
    text_copy(list, sizeof list, spawnings);
    ret->count = 0;
    for (char *code = strtok_r(list, ";", &rest); code != NULL; code = strtok_r(NULL, ";", &rest))
        if (!spawning_get(ledger, code, &spawning, err) || !add_id(ret, &spawning, err))
            return false;
    return ret->count > 1 || err_set(err, ERR_INPUT, "A mixed lot needs two or more spawnings.");
}

static bool find_mixed(struct ledger *ledger, const char *code, int64_t *ret_id, struct err *err)
{
    *ret_id = 0;
    struct query query = query_begin(ledger, SQL_LOT_MIXED);
    query_text(&query, code);
    return query_single(&query, ret_id, err);
}

static bool is_of(struct ledger *ledger, int64_t lot, const struct sources *sources, bool *ret_is,
                  struct err *err)
{
    int found = 0, others = 0;
    struct query query = query_with(ledger, SQL_LOT_SOURCES, lot);
    while (query_step(&query)) {
        int64_t id = row_id(&query);
        int i = 0;
        while (i < sources->count && sources->ids[i] != id)
            i++;
        *(i < sources->count ? &found : &others) += 1;
    }
    *ret_is = found == sources->count && others == 0;
    return query_end(&query, err);
}

/* Of this name; refused where it is one of other spawnings. */
static bool find_or_add_mixed(struct ledger *ledger, const char *spawnings, const char *code,
                              int64_t *ret_id, struct err *err)
{
    struct sources sources = {.count = 0};
    int64_t id;
    bool same = true;
    if (!read_sources(ledger, spawnings, &sources, err) || !find_mixed(ledger, code, &id, err))
        return false;
    if (id == 0 ? !add_lot(ledger, &sources, code, false, &id, err)
                : !is_of(ledger, id, &sources, &same, err))
        return false;
    if (!same)
        return err_set(err, ERR_INPUT, "Lot %s is mixed from other spawnings than %s.", code,
                       spawnings);
    *ret_id = id;
    return true;
}

bool lot_find_or_add(struct ledger *ledger, const char *spawnings, const char *code,
                     int64_t *ret_id, struct err *err)
{
    struct spawning of;
    if (strchr(spawnings, ';') != NULL)
        return find_or_add_mixed(ledger, spawnings, code, ret_id, err);
    return spawning_get(ledger, spawnings, &of, err) &&
           find_of_spawning(ledger, of.id, code, ret_id, err) &&
           (*ret_id != 0 || lot_add(ledger, of.id, code, false, ret_id, err));
}

bool lot_add_sources(struct ledger *ledger, int64_t lot, char *list, struct err *err)
{
    bool fit = true;
    struct query query = query_with(ledger, SQL_LOT_SOURCE_CODES, lot);
    while (fit && query_step(&query)) {
        const char *code = row_text_in_place(&query);
        size_t length = strlen(list);
        fit = length + strlen(code) + 2 <= CODES_SIZE;
        if (fit && !code_in_list(list, code))
            snprintf(list + length, CODES_SIZE - length, "%s%s", length > 0 ? ";" : "", code);
    }
    if (!query_end(&query, err))
        return false;
    return fit || err_set(err, ERR_INPUT, "There are too many spawnings for one mixed lot.");
}
