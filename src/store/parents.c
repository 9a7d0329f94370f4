#include "senbetsu/store/parents.h"

#include "audit_log.h"
#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <string.h>

enum { PARENT_FIELDS = 6 };

static void list_fields(const struct parent *parent, struct field ret[PARENT_FIELDS])
{
    ret[0] = field_text("sex", sex_terms[parent->sex].word);
    ret[1] = field_text("variety", parent->variety);
    ret[2] = field_number("born", parent->born, 0);
    ret[3] = field_text("dam", parent->dam);
    ret[4] = field_text("sire", parent->sire);
    ret[5] = field_text("note", parent->note);
}

static void read_parent(struct query *query, struct parent *ret)
{
    *ret = (struct parent){.id = row_number(query)};
    row_text(query, ret->code, sizeof ret->code);
    ret->sex = (enum sex)row_word(query, sex_terms, SEX_COUNT);
    row_text(query, ret->variety, sizeof ret->variety);
    ret->born = (int)row_number(query);
    row_text(query, ret->dam, sizeof ret->dam);
    row_text(query, ret->sire, sizeof ret->sire);
    row_text(query, ret->note, sizeof ret->note);
}

/* `ret->id` 0 = there is none. */
static bool find(struct ledger *ledger, const char *code, struct parent *ret, struct err *err)
{
    struct query query;
    *ret = (struct parent){.id = 0};
    query_begin(&query, ledger, SQL_PARENT_NAMED);
    query_text(&query, code);
    if (query_step(&query))
        read_parent(&query, ret);
    return query_end(&query, err);
}

bool parent_get(struct ledger *ledger, const char *code, struct parent *ret, struct err *err)
{
    struct parent parent;
    if (!find(ledger, code, &parent, err))
        return false;
    if (parent.id == 0)
        return err_set(err, ERR_ABSENT, "There is no parent %s in the ledger.", code);
    *ret = parent;
    return true;
}

bool parent_list(struct ledger *ledger, struct parent **ret, size_t *ret_count, struct err *err)
{
    struct parent *parents = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_PARENT_LIST);
    while (query_step(&query)) {
        parents = alloc_room(parents, count, &capacity, sizeof *parents);
        read_parent(&query, &parents[count++]);
    }
    return query_list(&query, parents, count, ret, ret_count, err);
}

/* What is said now goes over what was known; what is not said leaves it. */
static struct parent merge(const struct parent *known, const struct parent *said)
{
    struct parent merged = *said;
    merged.id = known->id;
    if (said->sex == SEX_UNKNOWN)
        merged.sex = known->sex;
    if (said->born == 0)
        merged.born = known->born;
    if (*said->variety == '\0')
        text_copy(merged.variety, sizeof merged.variety, known->variety);
    if (*said->dam == '\0')
        text_copy(merged.dam, sizeof merged.dam, known->dam);
    if (*said->sire == '\0')
        text_copy(merged.sire, sizeof merged.sire, known->sire);
    if (*said->note == '\0')
        text_copy(merged.note, sizeof merged.note, known->note);
    return merged;
}

bool parent_serves(struct ledger *ledger, const char *code, bool as_dam, struct err *err)
{
    struct parent parent = {.id = 0};
    if (!parent_get(ledger, code, &parent, err))
        return false;
    if (parent.sex == (as_dam ? SEX_MALE : SEX_FEMALE))
        return err_set(err, ERR_INPUT, "%s is %s and cannot be a %s.", code,
                       as_dam ? "male" : "female", as_dam ? "dam" : "sire");
    return true;
}

/* A dam or sire must exist, be of the right sex, and not descend from the fish itself. */
static bool check_forebear(struct ledger *ledger, const struct parent *parent, bool as_dam,
                           struct err *err)
{
    const char *code = as_dam ? parent->dam : parent->sire;
    int64_t descends = 0;
    struct query query;
    if (*code == '\0')
        return true;
    if (!parent_serves(ledger, code, as_dam, err))
        return false;
    query_begin(&query, ledger, SQL_PARENT_IS_ANCESTOR);
    query_text(&query, parent->code);
    query_text(&query, code);
    if (!query_single(&query, &descends, err))
        return false;
    return !descends || err_set(err, ERR_INPUT, "%s cannot be its own ancestor, through its %s %s.",
                                parent->code, as_dam ? "dam" : "sire", code);
}

/* A fish that is a dam somewhere does not become male, nor a sire female. */
static bool check_sex(struct ledger *ledger, const struct parent *parent, struct err *err)
{
    char child[CODE_SIZE] = "";
    struct query query;
    bool male = parent->sex == SEX_MALE;
    if (parent->sex == SEX_UNKNOWN)
        return true;
    query_begin(&query, ledger, SQL_PARENT_ROLE);
    query_number(&query, parent->id);
    query_number(&query, male);
    if (query_step(&query))
        row_text(&query, child, sizeof child);
    if (!query_end(&query, err))
        return false;
    return *child == '\0' ||
           err_set(err, ERR_INPUT, "%s is the %s of %s and cannot be %s.", parent->code,
                   male ? "dam" : "sire", child, male ? "male" : "female");
}

static bool store(struct ledger *ledger, enum sql sql, const struct parent *parent, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, sql);
    query_number(&query, parent->id);
    query_text(&query, parent->code);
    query_text_or_null(&query, sex_terms[parent->sex].word);
    query_text(&query, parent->variety);
    query_number_or_null(&query, parent->born, 0);
    query_text(&query, parent->dam);
    query_text(&query, parent->sire);
    query_text(&query, parent->note);
    return query_run(&query, err);
}

static bool add(struct ledger *ledger, struct parent *parent, enum saved *ret_saved,
                struct err *err)
{
    if (!new_id(ledger, &parent->id, err) || !store(ledger, SQL_PARENT_ADD, parent, err))
        return false;
    *ret_saved = SAVED_NEW;
    return true;
}

static bool change(struct ledger *ledger, const struct parent *known, const struct parent *merged,
                   int64_t judge, const char *why, enum saved *ret_saved, struct err *err)
{
    struct field was[PARENT_FIELDS];
    struct field becomes[PARENT_FIELDS];
    list_fields(known, was);
    list_fields(merged, becomes);
    if (fields_equal(was, becomes, PARENT_FIELDS)) {
        *ret_saved = SAVED_SAME;
        return true;
    }
    struct change about = {"parent", known->id, judge, why};
    if (!check_sex(ledger, merged, err) || !store(ledger, SQL_PARENT_CHANGE, merged, err) ||
        !amendments_record(ledger, &about, was, becomes, PARENT_FIELDS, err))
        return false;
    *ret_saved = SAVED_CHANGED;
    return true;
}

static bool save(struct ledger *ledger, const struct parent *parent, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err)
{
    struct parent known;
    if (!code_check(parent->code, "The parent's code", err) ||
        !find(ledger, parent->code, &known, err))
        return false;
    struct parent merged = merge(&known, parent);
    if (!check_forebear(ledger, &merged, true, err) || !check_forebear(ledger, &merged, false, err))
        return false;
    return known.id == 0 ? add(ledger, &merged, ret_saved, err)
                         : change(ledger, &known, &merged, judge, why, ret_saved, err);
}

bool parent_save(struct ledger *ledger, const struct parent *parent, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err)
{
    return write_begin(ledger, err) &&
           write_end(ledger, save(ledger, parent, judge, why, ret_saved, err), err);
}
