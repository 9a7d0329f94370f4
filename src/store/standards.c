/* Standards in the ledger. The text form is what is stored: whatever reads standards can read a
 * ledger's, and a version that was written is read back exactly, because parsing is the inverse of
 * writing. Its aspects and faults are listed in a table as well, for strokes refer to their order.
 */
#include "senbetsu/store/standards.h"

#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/varieties.h"
#include "strokes.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

static const struct term origin_terms[] = {
    [ORIGIN_SHIPPED] = {"shipped", NULL},
    [ORIGIN_IMPORTED] = {"imported", NULL},
    [ORIGIN_PASS_SCREEN] = {"pass", NULL},
};
enum { ORIGIN_COUNT = sizeof origin_terms / sizeof *origin_terms };

/* A variety that was named otherwise when the standard was written stands in it by the name it has
 * now; one that the list does not have stays as it is. */
static void settle_varieties(struct ledger *ledger, struct standard *standard)
{
    char names[STANDARD_VARIETIES], name[CODE_SIZE];
    text_copy(names, sizeof names, standard->varieties);
    standard->varieties[0] = '\0';
    for (const char *list = names; standard_next_variety(&list, name);) {
        variety_settle(ledger, name, NULL);
        standard_add_variety(standard, name);
    }
}

/* What was saved was written from a standard, so that it can be read again. */
static bool read_version(struct query *query, struct standard_version *ret, struct err *err)
{
    struct standard_version version = {.id = row_id(query)};
    version.version = row_int(query, 1, INT_MAX - 1);
    version.origin = (enum origin)row_word(query, origin_terms, ORIGIN_COUNT);
    char name[CODE_SIZE];
    struct err unreadable;
    row_code(query, name, sizeof name);
    const char *text = row_text_in_place(query);
    if (!standard_parse(text, strlen(text), name, &version.standard, &unreadable))
        return ledger_damaged(query->ledger, err, "the standard %.*s",
                              (int)strlen(unreadable.text) - 1, unreadable.text);
    settle_varieties(query->ledger, &version.standard);
    *ret = version;
    return true;
}

/* One row or none; `*ret_found` says which. */
static bool read_one(struct query *query, struct standard_version *ret, bool *ret_found,
                     struct err *err)
{
    bool found = query_step(query);
    bool readable = !found || read_version(query, ret, err);
    *ret_found = found;
    return query_end(query, readable ? err : NULL) && readable;
}

static bool find_named(struct ledger *ledger, const char *name, struct standard_version *ret,
                       bool *ret_found, struct err *err)
{
    struct query query = query_begin(ledger, SQL_STANDARD_NAMED);
    query_text(&query, name);
    return read_one(&query, ret, ret_found, err);
}

bool standard_named(struct ledger *ledger, const char *name, struct standard_version *ret,
                    struct err *err)
{
    bool found;
    if (!find_named(ledger, name, ret, &found, err))
        return false;
    return found || err_set(err, ERR_ABSENT, "There is no standard %s in the ledger.", name);
}

bool standard_version_get(struct ledger *ledger, int64_t id, struct standard_version *ret,
                          struct err *err)
{
    bool found;
    struct query query = query_with(ledger, SQL_STANDARD_BY_ID, id);
    if (!read_one(&query, ret, &found, err))
        return false;
    return found || err_set(err, ERR_ABSENT, "There is no such standard in the ledger.");
}

/* Appends what the query gives, as long as it can be read. */
static bool read_list(struct query *query, struct standard_version **ret, size_t *ret_count,
                      struct err *err)
{
    struct standard_version *versions = NULL;
    size_t count = 0;
    size_t capacity = 0;
    bool readable = true;
    while (readable && query_step(query)) {
        versions = alloc_room(versions, count, &capacity, sizeof *versions);
        readable = read_version(query, &versions[count], err);
        count += readable;
    }
    if (readable)
        return query_list(query, versions, count, ret, ret_count, err);
    query_end(query, NULL);
    free(versions);
    return false;
}

bool standard_list(struct ledger *ledger, struct standard_version **ret, size_t *ret_count,
                   struct err *err)
{
    struct query query = query_begin(ledger, SQL_STANDARD_LIST);
    return read_list(&query, ret, ret_count, err);
}

bool standard_for(struct ledger *ledger, const char *variety, enum stage stage,
                  struct standard_version *ret, struct err *err)
{
    struct standard_version *candidates; /* in the order in which they are to be preferred */
    size_t count;
    size_t first = 0;
    struct query query = query_begin(ledger, SQL_STANDARD_OF_STAGE);
    query_text(&query, stage_terms[stage].word);
    if (!read_list(&query, &candidates, &count, err))
        return false;
    while (first < count && !standard_serves(&candidates[first].standard, variety))
        first++;
    if (first < count)
        *ret = candidates[first];
    free(candidates);
    return first < count ||
           err_set(err, ERR_ABSENT, "There is no standard for %s at stage %s in the ledger.",
                   *variety == '\0' ? "fish of unknown variety" : variety, stage_terms[stage].word);
}

/* Two stations that save the same text as the same version of a name make one row of it. */
static bool version_id(struct ledger *ledger, const struct standard_version *version,
                       const char *text, int64_t *ret_id, struct err *err)
{
    struct text what;
    text_init(&what);
    text_addf(&what, "%s;%d;%s", version->standard.name, version->version, text);
    bool fine = office_id(ledger, "standard", what.data, ret_id, err);
    text_done(&what);
    return fine;
}

static bool add_row(struct ledger *ledger, const struct standard_version *version, const char *text,
                    struct err *err)
{
    struct query query = query_with(ledger, SQL_STANDARD_ADD, version->id);
    query_text(&query, version->standard.name);
    query_number(&query, version->version);
    query_text(&query, stage_terms[version->standard.stage].word);
    query_text(&query, origin_terms[version->origin].word);
    query_text(&query, text);
    query_number(&query, clock_now(&ledger->clock));
    return query_run(&query, err);
}

static bool add(struct ledger *ledger, struct standard_version *version, struct err *err)
{
    struct text text;
    text_init(&text);
    standard_write(&version->standard, &text);
    bool added = version_id(ledger, version, text.data, &version->id, err) &&
                 add_row(ledger, version, text.data, err);
    text_done(&text);
    return added;
}

static bool add_item(struct ledger *ledger, int64_t version, const char *kind, int position,
                     const char *code, const char *label, struct err *err)
{
    struct query query = query_with(ledger, SQL_STANDARD_ITEM_ADD, version);
    query_text(&query, kind);
    query_number(&query, position);
    query_text(&query, code);
    query_text(&query, label);
    return query_run(&query, err);
}

static bool add_items(struct ledger *ledger, int64_t version, const struct standard *standard,
                      struct err *err)
{
    bool added = true;
    for (int i = 0; added && i < standard->aspect_count; i++)
        added = add_item(ledger, version, "aspect", i + 1, standard->aspects[i].code,
                         standard->aspects[i].label, err);
    for (int i = 0; added && i < standard->fault_count; i++)
        added = add_item(ledger, version, "fault", i + 1, standard->faults[i].code,
                         standard->faults[i].label, err);
    return added;
}

/* Are the items of a version, in their order, those of its standard? */
static bool items_match(struct ledger *ledger, const struct standard_version *version,
                        bool *ret_match, struct err *err)
{
    const struct standard *standard = &version->standard;
    const int counts[2] = {standard->aspect_count, standard->fault_count};
    int at[2] = {0, 0};
    bool match = true;
    struct query query = query_with(ledger, SQL_STANDARD_ITEM_TEXTS, version->id);
    while (query_step(&query)) {
        int kind = strcmp(row_text_in_place(&query), "aspect") == 0 ? 0 : 1, i = at[kind]++;
        const char *code = row_text_in_place(&query), *label = row_text_in_place(&query);
        match =
            match && i < counts[kind] &&
            strcmp(code, kind == 0 ? standard->aspects[i].code : standard->faults[i].code) == 0 &&
            strcmp(label, kind == 0 ? standard->aspects[i].label : standard->faults[i].label) == 0;
        match = match && row_between(&query, 1, INT_MAX) == i + 1;
    }
    *ret_match = match && at[0] == counts[0] && at[1] == counts[1];
    return query_end(&query, err);
}

static bool rebuild_items(struct ledger *ledger, const struct standard_version *version,
                          struct err *err)
{
    struct query query = query_with(ledger, SQL_STANDARD_ITEMS_CLEAR, version->id);
    item_codes_forget(ledger);
    return query_run(&query, err) && add_items(ledger, version->id, &version->standard, err);
}

bool standard_items_check(struct ledger *ledger, bool rebuilds,
                          void (*differs)(void *context, const char *name, int version),
                          void *context, struct err *err)
{
    int64_t *ids;
    size_t count;
    bool fine = true;
    struct query query = query_begin(ledger, SQL_STANDARD_IDS);
    if (!query_ids(&query, &ids, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++) {
        struct standard_version version = {.id = 0};
        bool match = true;
        fine = standard_version_get(ledger, ids[i], &version, err) &&
               items_match(ledger, &version, &match, err);
        if (!fine || match)
            continue;
        differs(context, version.standard.name, version.version);
        fine = !rebuilds || rebuild_items(ledger, &version, err);
    }
    free(ids);
    return fine;
}

/* Saving what is already the latest version adds nothing, so that importing a file twice makes one
 * version. A new version changes the verdicts of every round judged by its name, in the same
 * transaction. */
static bool save(struct ledger *ledger, const struct standard *standard, enum origin origin,
                 struct standard_version *ret, enum saved *ret_saved, struct err *err)
{
    struct standard_version latest = {.version = 0};
    bool found;
    if (!find_named(ledger, standard->name, &latest, &found, err))
        return false;
    if (found && standard_equal(&latest.standard, standard)) {
        *ret = latest;
        *ret_saved = SAVED_SAME;
        return true;
    }
    struct standard_version next = {
        .version = latest.version + 1, .origin = origin, .standard = *standard};
    if (!add(ledger, &next, err) || !add_items(ledger, next.id, standard, err) ||
        !verdicts_rebuild_by(ledger, standard, err))
        return false;
    *ret = next;
    *ret_saved = found ? SAVED_CHANGED : SAVED_NEW;
    return true;
}

bool standard_save(struct ledger *ledger, const struct standard *standard, enum origin origin,
                   struct standard_version *ret, enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, save(ledger, standard, origin, ret, ret_saved, err), err);
}
