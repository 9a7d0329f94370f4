/* Parents in the ledger. A parent is known by its code; its dam and sire are parents as well, and
 * nobody may be his own ancestor. */
#include "senbetsu/store/parents.h"
#include "audit_log.h"
#include "senbetsu/store/varieties.h"

static void read_parent(struct query *query, void *ret_item)
{
    struct parent *ret = ret_item;
    *ret = (struct parent){.id = row_id(query)};
    row_record(query, parent_columns, PARENT_COLUMN_COUNT, ret);
}

/* `ret->id` 0 = there is none. */
static bool find(struct ledger *ledger, const char *code, struct parent *ret, struct err *err)
{
    *ret = (struct parent){.id = 0};
    struct query query = query_begin(ledger, SQL_PARENT_NAMED);
    query_text(&query, code);
    return query_row(&query, read_parent, ret, NULL, err);
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
    struct query query = query_begin(ledger, SQL_PARENT_LIST);
    return query_rows(&query, read_parent, sizeof **ret, ret, ret_count, err);
}

bool parent_serves(struct ledger *ledger, const char *code, bool as_dam, struct err *err)
{
    struct parent parent = {.id = 0};
    if (!parent_get(ledger, code, &parent, err))
        return false;
    return parent_check_role(code, parent.sex, as_dam, err);
}

/* A dam or sire must exist, be of the right sex, and not descend from the fish itself. */
static bool check_forebear(struct ledger *ledger, const struct parent *parent, bool as_dam,
                           struct err *err)
{
    const char *code = as_dam ? parent->dam : parent->sire;
    int64_t descends = 0;
    if (*code == '\0')
        return true;
    if (!parent_serves(ledger, code, as_dam, err))
        return false;
    struct query query = query_with(ledger, SQL_PARENT_IS_ANCESTOR, parent->id);
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
    bool male = parent->sex == SEX_MALE;
    if (parent->sex == SEX_UNKNOWN)
        return true;
    struct query query = query_with(ledger, SQL_PARENT_ROLE, parent->id);
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
    struct query query = query_with(ledger, sql, parent->id);
    query_record(&query, parent_columns, PARENT_COLUMN_COUNT, parent);
    return query_run(&query, err);
}

/* That dam and sire can be what they are said to be, and its variety is one of the list. */
static bool settle(struct ledger *ledger, struct parent *parent, struct err *err)
{
    return code_check(parent->code, "The parent's code", err) && parent_check_state(parent, err) &&
           variety_settle(ledger, parent->variety, err) &&
           check_forebear(ledger, parent, true, err) && check_forebear(ledger, parent, false, err);
}

static bool change(struct ledger *ledger, const struct parent *known, const struct parent *parent,
                   int64_t judge, const char *why, enum saved *ret_saved, struct err *err)
{
    struct change change = {"parent", known->id, judge, why};
    bool same = columns_equal(parent_columns, PARENT_COLUMN_COUNT, known, parent);
    *ret_saved = same ? SAVED_SAME : SAVED_CHANGED;
    return same ||
           (check_sex(ledger, parent, err) && store(ledger, SQL_PARENT_CHANGE, parent, err) &&
            audit_log_compare(ledger, &change, parent_columns, PARENT_COLUMN_COUNT, known, parent,
                              err));
}

static bool add(struct ledger *ledger, struct parent *parent, int64_t judge, const char *why,
                struct err *err)
{
    if (!office_id(ledger, "parent", parent->code, &parent->id, err))
        return false;
    struct change about = {"parent", parent->id, judge, why};
    return store(ledger, SQL_PARENT_ADD, parent, err) &&
           audit_log_begin_record(ledger, &about, parent_columns, PARENT_COLUMN_COUNT, parent, err);
}

static bool save(struct ledger *ledger, const struct parent *said, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err)
{
    struct parent known, parent = *said;
    if (!find(ledger, said->code, &known, err))
        return false;
    parent_merge(&known, &parent);
    if (!settle(ledger, &parent, err))
        return false;
    if (known.id != 0)
        return change(ledger, &known, &parent, judge, why, ret_saved, err);
    *ret_saved = SAVED_NEW;
    return add(ledger, &parent, judge, why, err);
}

bool parent_save(struct ledger *ledger, const struct parent *parent, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, save(ledger, parent, judge, why, ret_saved, err), err);
}

static bool code_is_free(struct ledger *ledger, const struct parent *parent, struct err *err)
{
    struct parent other;
    return find(ledger, parent->code, &other, err) &&
           (other.id == 0 || other.id == parent->id ||
            err_set(err, ERR_INPUT, "There is another parent %s; choose another code.",
                    parent->code));
}

static bool change_one(struct ledger *ledger, const struct parent *said, int64_t judge,
                       const char *why, enum saved *ret_saved, struct err *err)
{
    struct parent known, parent = *said;
    struct query query = query_with(ledger, SQL_PARENT_BY_ID, said->id);
    return query_row(&query, read_parent, &known, "This parent is not in the ledger.", err) &&
           settle(ledger, &parent, err) && code_is_free(ledger, &parent, err) &&
           change(ledger, &known, &parent, judge, why, ret_saved, err);
}

bool parent_change(struct ledger *ledger, const struct parent *parent, int64_t judge,
                   const char *why, enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, change_one(ledger, parent, judge, why, ret_saved, err), err);
}
